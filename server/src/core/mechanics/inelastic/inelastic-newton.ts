/**
 * Newton's method on the inelastic spans of a wire, with the motion given or free and the wire sliding where it may. History stays
 * as it was committed.
 *
 * Where the wire slides through a slot its balance is that of sliding-force.ts with what is stored in the edge's section as
 * elastic bending, ½ m·K⁻¹m. For wire that yields there is no stored energy that the state alone tells: bending fresh wire to
 * the moment M as it leaves the slot takes up ∫ κ dM, straightening it on its way back gives ½ K κ² (m·κ less what it
 * gives elastically). Of a perfectly plastic rectangle at twice its yield curvature the first is 6 % more than ½ M²/K, and at five
 * times 19 %; the second is more still. What bending and straightening dissipate resists sliding both ways, as friction does, and
 * like friction is left out of the equilibrium.
 */
import { factorise, solveFactorised } from '../../math/dense';
import { balance, clearBalance, solveControls } from '../control-balance';
import { applyPose, assembleEnd, missingRate } from '../end-conditions';
import { takeSupports } from '../held-span';
import { addToBalance, spanLength, turnNode } from '../newton';
import { COLUMNS } from '../span';
import { changeBehind } from '../supports/supports';
import type { WireControls } from '../wire-controls';
import { DRAWN_AT_END, DRAWN_AT_START, type InelasticSpan, setInelasticControls, WIDTH } from './inelastic-span';
import { sweep } from './sweep';

/** What the last `inelasticStep` did; sizes as in newton.ts. */
export const taken = {
  ok: false,
  rotation: 0,
  displacement: 0,
  defectRotation: 0,
  force: 0,
  /** Moment by which a section missed equilibrium before the step, N mm. */
  unbalanced: 0,
  control: 0,
  stiffness: 0,
  contactChanged: false,
};

/** One step of all spans; where the motion is `free` it is unknown too and the force along it is to vanish. */
export function inelasticStep(spans: readonly InelasticSpan[], controls: WireControls, free: boolean): void {
  taken.ok = true;
  taken.contactChanged = false;
  taken.rotation = taken.displacement = taken.defectRotation = taken.force = taken.unbalanced = 0;
  taken.control = taken.stiffness = 0;
  const { amounts } = controls;
  const count = amounts.length;
  clearBalance(count);
  for (const of of spans) {
    if (!linearise(of)) {
      taken.ok = false;
      return;
    }
    taken.unbalanced = Math.max(taken.unbalanced, of.unbalanced);
    addToBalance(of.held, count);
  }
  taken.ok = solveControls(controls, free);
  if (!taken.ok) return;
  taken.stiffness = balance.stiffness;
  taken.contactChanged ||= balance.changed;
  let longest = 0;
  for (let c = 0; c < count; c++) longest = Math.max(longest, Math.abs(balance.change[c]));
  if (longest > LONGEST) for (let c = 0; c < count; c++) balance.change[c] *= LONGEST / longest;
  for (const of of spans) {
    update(of);
    if (!taken.ok) return;
  }
  for (let c = 0; c < count; c++) amounts[c] += balance.change[c];
  taken.control = Math.min(longest, LONGEST);
  for (const of of spans) setInelasticControls(of, of.held.share, amounts);
}

/** Longest step of a control, mm: a wire near its plastic moment would run away. */
const LONGEST = 2;

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
const pose = new Float64Array(6);

function linearise(of: InelasticSpan): boolean {
  const { held, span, columns } = of;
  if (takeSupports(held)) taken.contactChanged = true;
  if (!sweep(of, true)) return false;
  const last = span.mesh.steps;
  for (let k = 0; k < COLUMNS; k++) span.columns[COLUMNS * last + k] = columns[WIDTH * last + k];
  if (span.planar) {
    // Nothing turns or moves out of the plane: any answer to these three will do.
    for (const [column, row] of OUT_OF_PLANE) span.columns[COLUMNS * last + 6 * column + row] = 1;
  }
  assembleEnd(held.end, span, matrix, held.change);
  if (factorise(matrix, 6, pivots) === 0) return false;
  solveFactorised(matrix, 6, pivots, held.change);
  for (const { kind, rate } of held.drives) {
    if (kind === 'move-end') missingRate(held.end, rate);
    else {
      const column = kind === 'draw-start' ? DRAWN_AT_START : DRAWN_AT_END;
      applyPose(held.end, span, columns, WIDTH * last + column, pose, 0, 1);
      for (let k = 0; k < 6; k++) rate[k] = -pose[k];
    }
    solveFactorised(matrix, 6, pivots, rate);
  }
  return true;
}

/** u's moments about the tangent and up and its force sideways, with the pose that each would change. */
const OUT_OF_PLANE = [
  [0, 0],
  [1, 1],
  [5, 5],
] as const;

/** Applies the change of u and of the controls to nodes and curvatures; towards the start u changes at every support. */
function update(of: InelasticSpan): void {
  const { held, span, columns, curvatureColumns, curvature } = of;
  const { change, drives } = held;
  const { u, rotation, position, defect, mesh, segment } = span;
  drawn.fill(0);
  for (const { kind, control, sign, rate } of drives) {
    const by = sign * balance.change[control];
    if (by !== 0) for (let k = 0; k < 6; k++) change[k] += rate[k] * by;
    if (kind !== 'move-end') drawn[kind === 'draw-start' ? 0 : 1] += by;
  }
  let largestRotation = 0;
  let largestDisplacement = 0;
  let defectRotation = 0;
  let force = segment[mesh.steps - 1];
  size = changed = 0;
  for (let i = mesh.steps; i > 0; i--) {
    combine(columns, WIDTH * i, change, span.planar ? POSE_IN_PLANE : ALL, moved);
    const angle2 = moved[0] * moved[0] + moved[1] * moved[1] + moved[2] * moved[2];
    largestRotation = Math.max(largestRotation, angle2);
    largestDisplacement = Math.max(largestDisplacement, moved[3] ** 2 + moved[4] ** 2 + moved[5] ** 2);
    if (segment[i - 1] !== force) {
      addChange(of, force, change);
      force = segment[i - 1];
      changeBehind(span, force / 6, moved, change);
    }
    turnNode(rotation, 4 * i, moved[0], moved[1], moved[2], angle2);
    for (let k = 0; k < 3; k++) position[3 * i + k] += moved[3 + k];
    defectRotation = Math.max(defectRotation, square(defect, 6 * i));
    combine(curvatureColumns, WIDTH * (i - 1), change, span.planar ? CURVATURE_IN_PLANE : ALL, moved);
    for (let k = 0; k < 6; k++) curvature[6 * i - 6 + k] += moved[k];
  }
  addChange(of, force, change);
  taken.rotation = Math.max(taken.rotation, Math.sqrt(largestRotation));
  taken.displacement = Math.max(taken.displacement, Math.sqrt(largestDisplacement));
  taken.defectRotation = Math.max(taken.defectRotation, Math.sqrt(defectRotation));
  taken.force = Math.max(taken.force, changed / size);
  taken.ok = taken.ok && Number.isFinite(largestRotation + largestDisplacement + changed + defectRotation + u[0]);
}

const moved = new Float64Array(6);
/** Wire drawn at the start and at the end in this step, mm. */
const drawn = new Float64Array(2);
/** Largest moment and force of the span's segments, on one scale as in newton.ts, and largest change of it. */
let size = 0;
let changed = 0;
/** Rows that can be other than 0. */
const ALL = [0, 1, 2, 3, 4, 5];
const POSE_IN_PLANE = [2, 3, 4];
const CURVATURE_IN_PLANE = [2, 5];

function addChange({ span }: InelasticSpan, force: number, change: Float64Array): void {
  const { u } = span;
  for (let k = 0; k < 6; k++) u[force + k] += change[k];
  const lever = 0.25 * spanLength(span);
  const floor = 1e-5 / (span.compliance.side * 4 * lever);
  size = Math.max(size, floor + Math.sqrt(square(u, force)) + lever * Math.sqrt(square(u, force + 3)));
  changed = Math.max(changed, Math.sqrt(square(change, 0)) + lever * Math.sqrt(square(change, 3)));
}

/** Seventh column, six columns times the change of u, the last two times the wire drawn. */
function combine(
  from: Float64Array,
  at: number,
  change: Float64Array,
  rows: readonly number[],
  into: Float64Array,
): void {
  into.fill(0);
  for (let k = 0; k < rows.length; k++) {
    const r = rows[k];
    let sum =
      from[at + 36 + r] +
      from[at + r] * change[0] +
      from[at + 6 + r] * change[1] +
      from[at + 12 + r] * change[2] +
      from[at + 18 + r] * change[3] +
      from[at + 24 + r] * change[4] +
      from[at + 30 + r] * change[5];
    if (drawn[0] !== 0) sum += from[at + DRAWN_AT_START + r] * drawn[0];
    if (drawn[1] !== 0) sum += from[at + DRAWN_AT_END + r] * drawn[1];
    into[r] = sum;
  }
}

function square(a: Float64Array, at: number): number {
  return a[at] * a[at] + a[at + 1] * a[at + 1] + a[at + 2] * a[at + 2];
}
