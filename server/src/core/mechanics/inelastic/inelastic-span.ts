/**
 * A span whose sections may yield. Beside the node poses and end forces of any span, the curvatures at two Gauss
 * points of every step are unknowns, and each of these sections has a history.
 *
 * Nodes are places of the wire itself: wire drawn through an attachment takes steps out of the span one after the
 * other (their length becomes 0) and the slot's edge cuts the one it stands in, which keeps its sections; what they keep of passing the
 * edge past yield is told in slot-edge.ts.
 */
import type { Stock } from '../../design';
import { historySize } from '../../material/fibre-history';
import type { FibreSection } from '../../material/fibre-section';
import { formSection } from '../../material/formed-section';
import { bend, bendAndTwist, type SectionAnswer, type TwistedAnswer } from '../../material/section-moments';
import { isTwisted, type TwistedSection } from '../../material/twisted-section';
import type { WireFibres } from '../../material/wire-fibres';
import { scale } from '../../math/vector';
import { asStraight } from '../compliance';
import { type Drive, type HeldSpan, placeControls } from '../held-span';
import { createMesh, type Mesh, type MeshRule, shapeMesh } from '../mesh';
import { isStraight, type Piece, straightPiece } from '../pieces';
import { createSpan, type Span } from '../span';
import { createSupports } from '../supports/supports';

/** Held like any span (held-span.ts), which the read-outs of states take as it is. */
export interface InelasticSpan {
  readonly held: HeldSpan;
  readonly span: Span;
  /** Of each step. */
  readonly sections: readonly FibreSection[];
  /** The same where they are twisted too: of a span in space. */
  readonly twisted: readonly TwistedSection[] | undefined;
  /**
   * Per step, the twist of the fibres over that of the section: in a bend shear takes a share of it, so that together they give way by
   * `twist` of compliance.ts.
   */
  readonly twistShare: Float64Array;
  /** Length of each step with no wire drawn, reserve included, mm. */
  readonly lengths: Float64Array;
  readonly arms: { readonly start: Arm; readonly end: Arm };
  /** u of each step. */
  readonly forces: Float64Array[];
  /** Curvature (twist, up, side) at each Gauss point, 6 numbers per step, rad/mm. */
  readonly curvature: Float64Array;
  /** Of the wire as bent, and of the nominal wire, 3 numbers per step. */
  readonly bent: Float64Array;
  readonly nominal: Float64Array;
  /** Curvature at each Gauss point with no moment, as of the last release, 6 per step. */
  readonly free: Float64Array;
  /** Curvature from which each fibre's strain is counted at the present share of engagement, 6 per step. */
  readonly reference: Float64Array;
  /** What force and, in a bend, curvature do to each other of the curvature at each Gauss point, as in the last sweep, 6 per step. */
  readonly coupled: Float64Array;
  /** Nodes of its supports' own places, and per support whether the wire may slide past it. */
  readonly places: Int32Array;
  readonly slides: Uint8Array;
  /** What the fibres have been through (fibre-history.ts), and where that of each Gauss point begins. */
  readonly history: Float64Array;
  readonly historyAt: Int32Array;
  /** Strain (twist of the fibres, up, side) that each Gauss point had as it was last drawn to a slot's edge, 6 per step; NaN for none. */
  readonly strainAtEdge: Float64Array;
  /** By u, at fixed u, and by wire drawn at the start and the end: per node 9 × (rotation, displacement), per step 9 × its curvatures. */
  readonly columns: Float64Array;
  readonly curvatureColumns: Float64Array;
  /** Of a span that its supports alone hold, what its curvatures change by: node's movement and u (36 per step), and by themselves (6). */
  readonly bending:
    | { readonly byNode: Float64Array; readonly byForce: Float64Array; readonly own: Float64Array }
    | undefined;
  /** Of each step's curvatures by the last Newton step. */
  readonly curvatureChange: Float64Array;
  /** Largest moment, N mm, by which a section misses equilibrium in the last sweep. */
  unbalanced: number;
}

/** Straight wire at an end that can be drawn out of the span. */
export interface Arm {
  /** Of it and its reserve, counted from that end; none where nothing draws. */
  readonly steps: number;
  /** Wire in reserve behind the slot's edge, mm. */
  readonly reserve: number;
  /** Wire drawn out, mm. */
  drawn: number;
  /** Of the latest equilibrium: the wire drawn out, and how far the step at the slot's edge was on its way to yielding (slot-edge.ts). */
  readonly before: { drawn: number; use: number };
}

/** Numbers per node in `columns` and per step in `curvatureColumns`, and where those of drawn wire stand. */
export const WIDTH = 54;
export const DRAWN_AT_START = 42;
export const DRAWN_AT_END = 48;

/** Gauss points of a step, and the integrals of their Lagrange polynomials from its start to them, over its length. */
const ROOT = Math.sqrt(3) / 6;
export const A11 = 0.25;
export const A12 = 0.25 - ROOT;
export const A21 = 0.25 + ROOT;
export const A22 = 0.25;

/** The wire of a held span once more, on a mesh of its own; `reserve`: wire that may be paid in where it is drawn, mm. */
export function createInelasticSpan(
  held: HeldSpan,
  fibres: WireFibres,
  rule: MeshRule,
  reserve: number,
): InelasticSpan {
  const { compliance, compliances, planar, mesh: elastic } = held.span;
  const draws = (kind: Drive['kind']) => held.drives.some((drive) => drive.kind === kind);
  const [atStart, atEnd] = [draws('draw-start'), draws('draw-end')];
  const { supports, loose } = held.span;
  const matters = ({ length, corners }: Piece) => length > 0 || corners.length > 0;
  const kept = supports ? elastic.pieces : elastic.pieces.filter(matters);
  const spare = (stock: Stock | undefined): Piece => ({ ...straightPiece, length: reserve, ...(stock && { stock }) });
  const pieces = [...(atStart ? [spare(kept[0]?.stock)] : []), ...kept, ...(atEnd ? [spare(kept.at(-1)?.stock)] : [])];
  const pulled = (kind: Drive['kind']) => held.drives.some((drive) => drive.kind === kind && drive.control === 0);
  const halvings = armHalvings(pieces, rule, pulled('draw-start'), pulled('draw-end'));
  const mesh = createMesh(pieces, rule, { start: false, end: false }, halvings);
  const ofStock = new Map(
    elastic.pieces.map(({ stock }, k) => [stock, asStraight(compliances[elastic.firstStep[k]])] as const),
  );
  // Supports stand where the same pieces begin.
  const before = atStart ? 1 : 0;
  const nodes = Array.from(supports?.nodes ?? [], (node) => mesh.firstStep[elastic.firstStep.indexOf(node) + before]);
  const ofPiece = new Map(elastic.pieces.map((piece, k) => [piece, compliances[elastic.firstStep[k]]] as const));
  const complianceOf = (piece: Piece) => ofPiece.get(piece) ?? ofStock.get(piece.stock)!;
  const span = createSpan(mesh, compliance, planar, createSupports(nodes), loose !== undefined, complianceOf);

  const steps = mesh.steps;
  const sections = mesh.pieces.flatMap(({ stock }, k) =>
    Array.from({ length: mesh.firstStep[k + 1] - mesh.firstStep[k] }, () => fibres(stock)),
  );
  const twisted = sections.every(isTwisted) ? sections : undefined;
  const historyAt = new Int32Array(2 * steps + 1);
  for (let point = 0; point < 2 * steps; point++) {
    historyAt[point + 1] = historyAt[point] + historySize(sections[point >> 1]);
  }
  const bent = new Float64Array(3 * steps);
  const nominal = new Float64Array(3 * steps);
  for (let k = 0; k < mesh.pieces.length; k++) {
    const { length, shape, preactivation } = mesh.pieces[k];
    if (!(length > 0)) continue;
    const shaped = scale(shape, 1 / length);
    const extra = scale(preactivation, 1 / length);
    for (let i = mesh.firstStep[k]; i < mesh.firstStep[k + 1]; i++) {
      for (let c = 0; c < 3; c++) {
        nominal[3 * i + c] = shaped[c];
        bent[3 * i + c] = shaped[c] + extra[c];
      }
    }
  }
  shapeMesh(mesh, 0);
  const made: InelasticSpan = {
    held: {
      ...held,
      span,
      drives: held.drives.map((drive) => ({
        ...drive,
        rate: new Float64Array(6),
        gradient: new Float64Array(6),
        amount: Number.NaN,
      })),
      share: Number.NaN,
      motion: Number.NaN,
      change: new Float64Array(6),
    },
    span,
    sections,
    twisted,
    twistShare: Float64Array.from(span.compliances, ({ twist }, i) =>
      twisted ? 1 / Math.sqrt(twist * twisted[i].torsion.stiffness) : 0,
    ),
    lengths: mesh.h.slice(),
    arms: {
      start: createArm(atStart ? startArm(mesh, atEnd) : 0, atStart ? reserve : 0),
      end: createArm(atEnd ? endArm(mesh, atStart) : 0, atEnd ? reserve : 0),
    },
    forces: Array.from(span.segment, (at) => span.u.subarray(at, at + 6)),
    curvature: new Float64Array(6 * steps),
    bent,
    nominal,
    free: new Float64Array(6 * steps),
    reference: new Float64Array(6 * steps),
    coupled: new Float64Array(6 * steps),
    places: Int32Array.from(nodes),
    slides: Uint8Array.from(nodes, (_, k) => (supports!.reach[2 * k] >= 0 ? 1 : 0)),
    history: new Float64Array(historyAt[2 * steps]),
    historyAt,
    strainAtEdge: new Float64Array(6 * steps).fill(Number.NaN),
    columns: new Float64Array(WIDTH * (steps + 1)),
    curvatureColumns: new Float64Array(WIDTH * steps),
    bending: span.loose && {
      byNode: new Float64Array(36 * steps),
      byForce: new Float64Array(36 * steps),
      own: new Float64Array(6 * steps),
    },
    curvatureChange: new Float64Array(6 * steps),
    unbalanced: 0,
  };
  for (let i = 0; i < steps; i++) {
    for (let c = 0; c < 6; c++) made.free[6 * i + c] = bent[3 * i + (c % 3)];
  }
  formBends(made);
  return made;
}

/** Sections of bends begin with what bending them has left in them. */
function formBends({ span: { mesh }, sections, bent, history, historyAt }: InelasticSpan): void {
  for (let k = 0; k < mesh.pieces.length; k++) {
    const { forming } = mesh.pieces[k];
    const first = mesh.firstStep[k];
    const section = sections[first];
    if (!forming || first === mesh.firstStep[k + 1] || !hasYield(section)) continue;
    // A piece has one curvature throughout.
    const at = historyAt[2 * first];
    formSection(section, bent[3 * first + 1], bent[3 * first + 2], forming.furthest, history, at);
    for (let point = 2 * first; point < 2 * mesh.firstStep[k + 1]; point++) {
      history.copyWithin(historyAt[point], at, historyAt[2 * first + 1]);
    }
  }
}

/** Of an alloy with a yield strength, as opposed to a superelastic one and to one of which nothing is known beyond its elastic range. */
function hasYield({ law }: FibreSection): boolean {
  return law.kind === 'elastic-plastic' && Number.isFinite(law.limit);
}

/** Sets the controls, as held-span.ts has it: how far the wire is bent from the nominal shape to its free one, and what draws and moves it. */
export function setInelasticControls(of: InelasticSpan, share: number, amounts: Float64Array): void {
  const { span, held, bent, nominal, free, reference } = of;
  const shaped = share !== held.share;
  if (shaped) {
    shapeMesh(span.mesh, share);
    for (let i = 0; i < span.mesh.steps; i++) {
      for (let c = 0; c < 6; c++) {
        const wire = 3 * i + (c % 3);
        const now = bent[wire] - (1 - share) * (free[6 * i + c] - nominal[wire]);
        // Sections keep their strain, so that Newton starts from their present stiffness.
        of.curvature[6 * i + c] += now - reference[6 * i + c];
        reference[6 * i + c] = now;
      }
    }
  }
  placeControls(held, share, amounts, shaped, (at, by) => cutSteps(of, at, by));
}

/** Puts every node where the wire with its present curvatures has it, without end forces. */
export function layFree(of: InelasticSpan): void {
  of.span.u.fill(0);
  for (let i = 0; i < of.span.mesh.steps; i++) {
    for (let c = 0; c < 6; c++) of.curvature[6 * i + c] = of.nominal[3 * i + (c % 3)];
  }
}

/** The step that the slot's edge at an end cuts, -1 where none is drawn there: its length falls as wire is drawn out. */
export function cutStep({ span, lengths, arms }: InelasticSpan, at: 'start' | 'end'): number {
  const { steps, reserve, drawn } = arms[at];
  let gone = reserve + drawn;
  for (let k = 0; k < steps; k++) {
    const i = at === 'start' ? k : span.mesh.steps - 1 - k;
    gone -= lengths[i];
    if (gone < 0) return i;
  }
  if (steps === 0) return -1;
  return at === 'start' ? steps - 1 : span.mesh.steps - steps;
}

/** Strain of a Gauss point's section: component c of (twist of its fibres, up, side), rad/mm. */
export function sectionStrain(of: InelasticSpan, point: number, c: number): number {
  const at = 3 * point + c;
  const strain = of.curvature[at] - of.reference[at] - of.coupled[at];
  return c === 0 ? strain * of.twistShare[point >> 1] : strain;
}

/** Moments and stiffness of a Gauss point's section at its present curvature, of a span in a plane. */
export function sectionAt(of: InelasticSpan, point: number, into: SectionAnswer): void {
  const up = sectionStrain(of, point, 1);
  const side = sectionStrain(of, point, 2);
  bend(of.sections[point >> 1], of.history, of.historyAt[point], up, side, into);
}

/** The same with torque and twist, of a span in space. */
export function twistedSectionAt(of: InelasticSpan, section: TwistedSection, point: number, into: TwistedAnswer): void {
  const twist = sectionStrain(of, point, 0);
  const up = sectionStrain(of, point, 1);
  const side = sectionStrain(of, point, 2);
  bendAndTwist(section, of.history, of.historyAt[point], twist, up, side, into);
  const share = of.twistShare[point >> 1];
  into.torque *= share;
  into.twistUp *= share;
  into.twistSide *= share;
  into.twistTwist *= share * share;
}

function cutSteps({ span, lengths, arms }: InelasticSpan, at: 'start' | 'end', drawn: number): void {
  const arm = arms[at];
  arm.drawn = drawn;
  let gone = arm.reserve + drawn;
  for (let k = 0; k < arm.steps; k++) {
    const i = at === 'start' ? k : span.mesh.steps - 1 - k;
    // Wire beyond the reserve lengthens its first step.
    const cut = k === 0 && gone < 0 ? gone : Math.max(0, Math.min(gone, lengths[i]));
    const left = lengths[i] - cut;
    span.mesh.h[i] = span.mesh.ownLength[i] = left > NOTHING ? left : 0;
    gone -= lengths[i];
  }
}

/** Halvings of each piece: of straight wire at an end that the activation draws through a slot by millimetres. */
function armHalvings(pieces: readonly Piece[], rule: MeshRule, atStart: boolean, atEnd: boolean): readonly number[] {
  const bends = (piece: Piece) => !isStraight(piece);
  const first = pieces.findIndex(bends);
  const last = pieces.findLastIndex(bends);
  const finer = rule.length > LONGEST_DRAWN ? 1 : 0;
  return pieces.map((_, k) => ((atStart && (first < 0 || k < first)) || (atEnd && k > last) ? finer : 0));
}

/** mm: what passes the edge of a slot past yield keeps differs from section to section. */
const LONGEST_DRAWN = 0.5;

/** mm: what rounding leaves of a step. */
const NOTHING = 1e-9;

function createArm(steps: number, reserve: number): Arm {
  return { steps, reserve, drawn: Number.NaN, before: { drawn: Number.NaN, use: 0 } };
}

/** Wire that is straight from end to end, and drawn at both of them, is drawn out of about its half at each. */
function startArm({ pieces, firstStep }: Mesh, both: boolean): number {
  let k = 0;
  while (k < pieces.length && isBare(pieces[k])) k++;
  return firstStep[k === pieces.length && both ? Math.ceil(k / 2) : k];
}

function endArm({ pieces, firstStep, steps }: Mesh, both: boolean): number {
  // Corners stand at a piece's start: the last arm may begin with one.
  let k = pieces.length - 1;
  while (k > 0 && isBare(pieces[k])) k--;
  if (k === 0 && both && isBare(pieces[0])) return steps - firstStep[Math.ceil(pieces.length / 2)];
  return steps - (isStraight(pieces[k]) ? firstStep[k] : firstStep[k + 1]);
}

function isBare(piece: Piece): boolean {
  return isStraight(piece) && piece.corners.length === 0;
}
