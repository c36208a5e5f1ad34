/**
 * A second, independent rod for the tests: the wire as short pieces that keep their shape, joined by
 * elastic joints (a finite-difference rod on a staggered grid: one frame per piece, one position per
 * joint), solved by Newton's method on all poses at once. Second order in the piece length; two
 * meshes and Richardson's extrapolation give about 1e-5. Shares only the input record with the solver.
 *
 * Model: elastic energy ½ ε·F⁻¹ε per joint (ε the rotation vector of the misfit between the two
 * half-pieces carried to the joint, F half the compliance of either piece) plus ½ Γ·CΓ/h per piece (Γ the
 * misfit of its chord in its own frame). Preactivation and attachment poses are scaled in together.
 *
 * In bends stretch and shear turn the sections (theory of curved beams): with v the curvature of the bend times the direction to
 * its centre, each joint's misfit is counted with v × Γ of the halves beside it, the stretch in it 1 + ν times: the fibres press on
 * each other along the radius.
 */
import type { ApplianceDesign, Attachment } from '#core/design';
import { BlockTridiagonal } from './block-tridiagonal';
import {
  add,
  apply,
  applyTransposed,
  cross,
  identity,
  type Matrix,
  multiply,
  norm,
  rotation,
  rotationVector,
  scale,
  skew,
  subtract,
  sum,
  transpose,
  type Vector,
} from './rotation';
import { type Stiffness, stiffnessOf } from './stiffness';
import { chordOf, layOut, nominalPlace, type Piece, type Place, piecesBetween, turnOf } from './wire-line';

export interface OracleWrench {
  /** Of the wire on the tooth at the slot's centre, in the attachment's axes; N and N mm. */
  readonly force: Vector;
  readonly moment: Vector;
}

export interface OracleOptions {
  readonly bendingOnly?: boolean;
  /** Pieces no longer (mm) and turning no more (rad) than this on the coarser of the two meshes. */
  readonly longest?: number;
  readonly turn?: number;
}

/** Wrenches on both attachments at an amount of the design's motion, extrapolated from two meshes; undefined where Newton fails. */
export function oracleWrenches(
  design: ApplianceDesign,
  motion: number,
  options: OracleOptions = {},
): OracleWrench[] | undefined {
  const { longest = 0.5, turn = Math.PI / 24 } = options;
  const coarse = solveMesh(design, motion, longest, turn, options.bendingOnly ?? false);
  const fine = solveMesh(design, motion, longest / 2, turn / 2, options.bendingOnly ?? false);
  if (!coarse || !fine) return undefined;
  const extrapolate = (a: Vector, b: Vector) => a.map((value, k) => (4 * b[k] - value) / 3);
  return fine.map((wrench, i) => ({
    force: extrapolate(coarse[i].force, wrench.force),
    moment: extrapolate(coarse[i].moment, wrench.moment),
  }));
}

interface End {
  readonly attachment: Attachment;
  /** Held in position and direction; otherwise in position only. */
  readonly clamped: boolean;
  /** Which of the slot's own axes hold the point. */
  readonly held: readonly [boolean, boolean, boolean];
  readonly slotAxes: Matrix;
  /** Where the nominal wire has it, and where the attachment wants it. */
  readonly from: Place;
  readonly to: Place;
}

interface State {
  readonly positions: Vector[];
  readonly frames: Matrix[];
}

/** Straight pieces and corners in the form Newton needs: pieces of positive length, and the corner before each. */
interface Chain {
  readonly pieces: readonly Piece[];
  readonly corners: readonly Piece[];
}

function solveMesh(
  design: ApplianceDesign,
  motion: number,
  longest: number,
  turn: number,
  bendingOnly: boolean,
): OracleWrench[] | undefined {
  if (design.attachments.length !== 2) throw new Error('the oracle takes two attachments');
  const ends = endsOf(design, motion);
  const pull = pulled(design, motion);
  const [first, last] = design.attachments;
  const from = first.station + pull[0] + first.length / 2;
  const to = last.station + pull[1] - last.length / 2;
  const chain = chainOf(piecesBetween(design, from, to, longest, turn));
  const stiffness = stiffnessOf(design, bendingOnly);
  const places = layOut(
    chain.pieces.flatMap((piece, i) => [chain.corners[i], piece]),
    ends[0].from,
    0,
  );
  const count = chain.pieces.length;
  const system = new BlockTridiagonal(count + 1);
  let state: State = {
    positions: [...chain.pieces.map((_, i) => places[2 * i].position), places[2 * count].position],
    frames: [
      ...chain.pieces.map((piece, i) => multiply(places[2 * i + 1].axes, rotation(scale(piece.shape, 0.5)))),
      places[2 * count].axes,
    ],
  };

  // On the way in, straight sections lead to the same place; what bends couple comes last.
  const straight = { ...stiffness, bends: 0 };
  let amount = 0;
  let step = 0.2;
  while (amount < 1) {
    const next = Math.min(1, amount + step);
    const solved = newton(chain, straight, ends, state, next, system, 1e-5);
    if (solved) {
      state = solved.state;
      amount = next;
      if (solved.iterations <= 6) step *= 1.6;
    } else {
      step /= 2.5;
      if (step < 1e-3) return undefined;
    }
  }
  let bends = 0;
  step = 1;
  while (bends < 1) {
    const next = Math.min(1, bends + step);
    const share = { ...stiffness, bends: next * stiffness.bends };
    const solved = newton(chain, share, ends, state, 1, system, next === 1 ? 1e-8 : 1e-5);
    if (solved) {
      state = solved.state;
      bends = next;
    } else {
      step /= 2.5;
      if (step < 1e-2) return undefined;
    }
  }
  return wrenchesOf(chain, stiffness, ends, state);
}

function chainOf(all: readonly Piece[]): Chain {
  const pieces: Piece[] = [];
  const corners: Piece[] = [];
  const none: Piece = { length: 0, shape: [0, 0, 0], preactivation: [0, 0, 0] };
  let corner = none;
  for (const piece of all) {
    if (piece.length === 0) {
      if (corner !== none) throw new Error('two corners in one place');
      corner = piece;
    } else {
      pieces.push(piece);
      corners.push(corner);
      corner = none;
    }
  }
  return { pieces, corners };
}

/** How far the seat slides along the wire at the first and the second attachment. */
function pulled(design: ApplianceDesign, motion: number): [number, number] {
  const declared = design.activation?.motion;
  if (declared?.kind !== 'pull') return [0, 0];
  // Drawn away from the free span: the seat moves into the span, whichever end it is.
  return declared.attachment === 0 ? [motion, 0] : [0, -motion];
}

function endsOf(design: ApplianceDesign, motion: number): [End, End] {
  const pull = pulled(design, motion);
  const declared = design.activation?.motion;
  const make = (index: 0 | 1): End => {
    const attachment = design.attachments[index];
    const clamped = attachment.fitting === 'tube' || attachment.fitting === 'bracket';
    const inward = (index === 0 ? 1 : -1) * (attachment.length / 2);
    const moved =
      declared?.kind === 'move' && declared.attachment === index ? scale(declared.direction, motion) : [0, 0, 0];
    const seated = attachment.seatedWire;
    const tangent = apply(seated.axes, [1, 0, 0]);
    return {
      attachment,
      clamped,
      held: [clamped || attachment.tied, true, true],
      slotAxes: attachment.slotAxes,
      from: nominalPlace(design, attachment.station + pull[index] + inward),
      to: { position: add(add(seated.position, moved), scale(tangent, inward)), axes: seated.axes },
    };
  };
  return [make(0), make(1)];
}

function placeAt(end: End, amount: number): Place {
  const turn = rotationVector(multiply(transpose(end.from.axes), end.to.axes));
  return {
    position: add(scale(end.from.position, 1 - amount), scale(end.to.position, amount)),
    axes: multiply(end.from.axes, rotation(scale(turn, amount))),
  };
}

/** What an elastic joint knows of the pieces on either side. */
interface Side {
  readonly frame: Matrix;
  /** Half length, mm. */
  readonly half: number;
  /** What stretch and shear of this half turn the sections by, in its own frame. */
  readonly bent: Vector;
  /** Turn per length by moment. */
  readonly turnBy: Vector;
}

interface Joint {
  /** Spatial moment on the second frame. */
  readonly moment: Vector;
  readonly tangent: number[];
  /** Moments in the halves' own frames. */
  readonly before: Vector;
  readonly after: Vector;
}

/** Elastic joint between two frames, with its two tangent blocks. */
function joint(before: Side, after: Side, corner: Matrix): Joint {
  const carried = multiply(before.frame, corner);
  const misfit = rotationVector(multiply(transpose(carried), after.frame));
  const diagonal = ({ half, turnBy: [a, b, c] }: Side) => [half * a, 0, 0, 0, half * b, 0, 0, 0, half * c];
  const flexibility = sum(multiply(multiply(transpose(corner), diagonal(before)), corner), diagonal(after));
  const rigidity = inverse(flexibility);
  const elastic = apply(rigidity, add(misfit, add(applyTransposed(corner, before.bent), after.bent)));
  const toVector = inverseLeftJacobian(misfit);
  const material = apply(transpose(toVector), elastic);
  const local = sum(
    multiply(multiply(transpose(toVector), rigidity), toVector),
    multiply(skew(elastic), toVector),
    -0.5,
  );
  return {
    moment: apply(carried, material),
    tangent: multiply(multiply(carried, local), transpose(carried)),
    before: apply(corner, elastic),
    after: elastic,
  };
}

/** d log(exp(a) exp(v)) / da at a = 0. */
function inverseLeftJacobian(v: Vector): number[] {
  const angle = norm(v);
  const factor = angle < 1e-4 ? 1 / 12 : (1 - angle / 2 / Math.tan(angle / 2)) / (angle * angle);
  const matrix = skew(v);
  return sum(sum(identity, matrix, -0.5), multiply(matrix, matrix), factor);
}

function inverse(m: Matrix): number[] {
  const rows = [m.slice(0, 3), m.slice(3, 6), m.slice(6, 9)];
  const columns = [cross(rows[1], rows[2]), cross(rows[2], rows[0]), cross(rows[0], rows[1])];
  const determinant = rows[0][0] * columns[0][0] + rows[0][1] * columns[0][1] + rows[0][2] * columns[0][2];
  return transpose([...columns[0], ...columns[1], ...columns[2]].map((value) => value / determinant));
}

interface Deformed {
  readonly joints: readonly (Joint | undefined)[];
  /** Force (spatial, on the piece's far end) with what its tangent needs. */
  readonly pieces: readonly { readonly force: Vector; readonly along: Vector; readonly tangent: number[] }[];
}

/** Forces and moments of a state: joint k lies before piece k, 0 at the first end, the last at the other. */
function deform(
  { pieces, corners }: Chain,
  stiffness: Stiffness,
  ends: readonly [End, End],
  { positions, frames }: State,
  amount: number,
): Deformed {
  const count = pieces.length;
  const half = (index: number) => rotation(scale(turnOf(pieces[index], amount), 0.5));
  const bends = pieces.map((piece) => scale(towardCentre(piece), stiffness.bends));
  const alongs = pieces.map((_, i) => subtract(positions[i + 1], positions[i]));
  const strains = pieces.map((piece, i) => {
    const turn = turnOf(piece, amount);
    const chord = applyTransposed(rotation(scale(turn, 0.5)), chordOf(piece.length, turn));
    return subtract(applyTransposed(frames[i], alongs[i]), chord);
  });
  const none = (frame: Matrix): Side => ({ frame, half: 0, bent: zero, turnBy: zero });
  const sideOf = (i: number, end: boolean): Side => ({
    frame: multiply(frames[i], end ? half(i) : transpose(half(i))),
    half: pieces[i].length / 2,
    bent: scale(turnedBy(stiffness, bends[i], strains[i]), 0.5),
    turnBy: withoutStretch(stiffness, bends[i]),
  });
  const joints = Array.from({ length: count + 1 }, (_, k) => {
    if (!(k === 0 ? ends[0].clamped : k < count || ends[1].clamped)) return undefined;
    const before = k === 0 ? none(placeAt(ends[0], amount).axes) : sideOf(k - 1, true);
    const after = k === count ? none(frames[count]) : sideOf(k, false);
    const corner = k < count ? rotation(turnOf(corners[k], amount)) : identity;
    return joint(before, after, corner);
  });
  return {
    joints,
    pieces: pieces.map(({ length }, i) => {
      const [a, b, c] = stiffness.stretch.map((value) => value / length);
      const moment = scale(add(joints[i]?.after ?? zero, joints[i + 1]?.before ?? zero), 0.5);
      const straight = [a * strains[i][0], b * strains[i][1], c * strains[i][2]];
      return {
        force: apply(frames[i], add(straight, pulledBy(stiffness, moment, bends[i]))),
        along: alongs[i],
        tangent: multiply(multiply(frames[i], [a, 0, 0, 0, b, 0, 0, 0, c]), transpose(frames[i])),
      };
    }),
  };
}

const zero: Vector = [0, 0, 0];

/** By moments that are not let stretch the bend: with it, the sections turn by as much as those of straight wire. */
function withoutStretch({ turn, stretch, poisson }: Stiffness, bend: Vector): Vector {
  const share = (1 + poisson) ** 2 / stretch[0];
  return [1 / turn[0], 1 / turn[1] - share * bend[2] ** 2, 1 / turn[2] - share * bend[1] ** 2];
}

/** What a strain turns the sections of a bend by, and the forces that moments bear for that. */
function turnedBy({ poisson }: Stiffness, bend: Vector, [along, up, side]: Vector): Vector {
  return cross(bend, [(1 + poisson) * along, up, side]);
}

function pulledBy({ poisson }: Stiffness, moment: Vector, bend: Vector): Vector {
  const [along, up, side] = cross(moment, bend);
  return [(1 + poisson) * along, up, side];
}

/** Curvature of the free wire (1/mm) times the direction to its centre, in its own frame. */
function towardCentre(piece: Piece): Vector {
  return scale(cross(turnOf(piece, 1), [1, 0, 0]), 1 / piece.length);
}

function newton(
  chain: Chain,
  stiffness: Stiffness,
  ends: readonly [End, End],
  start: State,
  amount: number,
  system: BlockTridiagonal,
  tolerance: number,
): { state: State; iterations: number } | undefined {
  const count = chain.pieces.length;
  const ahead = stiffness.bends > 0 ? CHEBYSHEV : 1;
  let state = start;
  let last = Array.from({ length: count + 1 }, () => ({ move: zero, spin: zero }));
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    assemble(chain, stiffness, ends, state, amount, system);
    if (!system.solve()) return undefined;
    const updates = system.right.slice(0, count + 1).map(([x, y, z, ...turn], i) => {
      const end = i === 0 ? ends[0] : i === count ? ends[1] : undefined;
      const outer = end ? apply(end.slotAxes, [x, y, z]) : [x, y, z];
      return {
        move: add(scale(outer, ahead), scale(last[i].move, ahead - 1)),
        spin: add(scale(turn.slice(0, 3), ahead), scale(last[i].spin, ahead - 1)),
      };
    });
    const turned = Math.max(...updates.map(({ spin }) => norm(spin)));
    const shifted = Math.max(...updates.map(({ move }) => norm(move)));
    if (!(turned < LARGEST_TURN) || !Number.isFinite(shifted)) return undefined;
    last = updates;
    state = {
      positions: state.positions.map((position, i) => add(position, last[i].move)),
      frames: state.frames.map((frame, i) => multiply(rotation(last[i].spin), frame)),
    };
    if (turned < tolerance && shifted < 10 * tolerance) return { state, iterations: iteration };
  }
  return undefined;
}

/**
 * What bends couple is left out of the tangent, so that errors come back by up to about half, with either sign: Chebyshev's
 * semi-iteration for a spectrum within ±0.5, ω = 2 / (1 + √(1 - 0.5²)), halves the number of steps.
 */
const CHEBYSHEV = 2 / (1 + Math.sqrt(0.75));
/** Errors that come back by more die away slowly. */
const MOST_ITERATIONS = 100;
/** rad */
const LARGEST_TURN = 1.5;

/** Fills the system so that its solution is Newton's update: positions (0..2) and spins (3..5) per node. */
function assemble(
  chain: Chain,
  stiffness: Stiffness,
  ends: readonly [End, End],
  state: State,
  amount: number,
  system: BlockTridiagonal,
): void {
  const count = chain.pieces.length;
  system.clear();
  const push = (node: number, offset: number, vector: Vector, factor: number) => {
    for (let k = 0; k < 3; k++) system.right[node][offset + k] -= factor * vector[k];
  };
  // What bends couple is left out of the tangent: Newton's residual has it.
  const { joints, pieces } = deform(chain, stiffness, ends, state, amount);
  for (const [i, { force, along, tangent }] of pieces.entries()) {
    const toSpin = sum(multiply(tangent, skew(along)), skew(force), -1);
    const ofSpin = sum(multiply(skew(along), tangent), skew(force), -1).map((value) => -value);
    push(i, 0, force, -1);
    push(i + 1, 0, force, 1);
    push(i, 3, cross(force, along), 1);
    system.add(i, 0, i, 0, tangent, 1);
    system.add(i, 0, i + 1, 0, tangent, -1);
    system.add(i + 1, 0, i, 0, tangent, -1);
    system.add(i + 1, 0, i + 1, 0, tangent, 1);
    system.add(i, 0, i, 3, toSpin, -1);
    system.add(i + 1, 0, i, 3, toSpin, 1);
    system.add(i, 3, i, 0, ofSpin, -1);
    system.add(i, 3, i + 1, 0, ofSpin, 1);
    system.add(i, 3, i, 3, multiply(skew(along), toSpin), -1);
  }
  for (const [k, held] of joints.entries()) {
    if (!held) continue;
    const { moment, tangent } = held;
    const gyric = skew(moment);
    push(k, 3, moment, 1);
    system.add(k, 3, k, 3, tangent, 1);
    if (k === 0) continue;
    push(k - 1, 3, moment, -1);
    system.add(k, 3, k - 1, 3, sum(tangent, gyric), -1);
    system.add(k - 1, 3, k, 3, tangent, -1);
    system.add(k - 1, 3, k - 1, 3, sum(tangent, gyric), 1);
  }
  hold(system, 0, ends[0], state.positions[0], placeAt(ends[0], amount));
  const last = placeAt(ends[1], amount);
  hold(system, count, ends[1], state.positions[count], last);
  const spin = ends[1].clamped ? rotationVector(multiply(last.axes, transpose(state.frames[count]))) : [0, 0, 0];
  for (let k = 3; k < 6; k++) fix(system, count, k, spin[k - 3]);
}

/** Writes an end's position in its slot's own axes and fixes the held ones. */
function hold(system: BlockTridiagonal, node: number, end: End, position: Vector, place: Place): void {
  const axes = end.slotAxes;
  for (const block of [system.diagonal[node], system.lower[node], system.upper[node]]) rotateRows(block, axes, 6);
  rotateRows(system.right[node], axes, 1);
  rotateColumns(system.diagonal[node], axes);
  if (node > 0) rotateColumns(system.upper[node - 1], axes);
  if (node < system.count - 1) rotateColumns(system.lower[node + 1], axes);
  const missing = applyTransposed(axes, subtract(place.position, position));
  for (let k = 0; k < 3; k++) if (end.held[k]) fix(system, node, k, missing[k]);
}

function fix(system: BlockTridiagonal, node: number, row: number, value: number): void {
  for (const block of [system.diagonal[node], system.lower[node], system.upper[node]])
    block.fill(0, row * 6, row * 6 + 6);
  system.diagonal[node][row * 7] = 1;
  system.right[node][row] = value;
}

function rotateRows(block: Float64Array, axes: Matrix, columns: number): void {
  for (let c = 0; c < columns; c++) {
    const turned = applyTransposed(axes, [block[c], block[columns + c], block[2 * columns + c]]);
    for (let r = 0; r < 3; r++) block[r * columns + c] = turned[r];
  }
}

function rotateColumns(block: Float64Array, axes: Matrix): void {
  for (let r = 0; r < 6; r++) {
    const turned = applyTransposed(axes, [block[6 * r], block[6 * r + 1], block[6 * r + 2]]);
    for (let c = 0; c < 3; c++) block[6 * r + c] = turned[c];
  }
}

function wrenchesOf(chain: Chain, stiffness: Stiffness, ends: readonly [End, End], state: State): OracleWrench[] {
  const count = chain.pieces.length;
  const report = (end: End, position: Vector, force: Vector, moment: Vector): OracleWrench => {
    const inward = apply(end.to.axes, [end === ends[0] ? -1 : 1, 0, 0]);
    const centre = end.clamped ? add(end.to.position, scale(inward, end.attachment.length / 2)) : end.to.position;
    const { axes } = end.attachment;
    return {
      force: applyTransposed(axes, force),
      moment: applyTransposed(axes, add(moment, cross(subtract(position, centre), force))),
    };
  };
  const { joints, pieces } = deform(chain, stiffness, ends, state, 1);
  return [
    report(ends[0], state.positions[0], pieces[0].force, joints[0]?.moment ?? zero),
    report(
      ends[1],
      state.positions[count],
      scale(pieces[count - 1].force, -1),
      scale(joints[count]?.moment ?? zero, -1),
    ),
  ];
}
