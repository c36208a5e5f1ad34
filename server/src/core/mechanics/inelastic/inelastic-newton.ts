/** Newton's method on the inelastic spans of a wire, with the motion given or free. History stays as it was committed. */
import { factorise, solveFactorised } from '../../math/dense';
import { applyPose, assembleEnd, missingRate } from '../end-conditions';
import { activationDrive } from '../held-span';
import { spanLength, turnNode } from '../newton';
import { COLUMNS } from '../span';
import { type InelasticSpan, setInelasticControls, WIDTH } from './inelastic-span';
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
  motion: 0,
  alongMotion: 0,
  stiffness: 0,
};

/** One step of all spans; with `balance` the motion is unknown too and the force along it is to vanish. */
export function inelasticStep(spans: readonly InelasticSpan[], balance: boolean): void {
  taken.ok = true;
  taken.rotation = taken.displacement = taken.defectRotation = taken.force = taken.unbalanced = 0;
  taken.motion = taken.alongMotion = taken.stiffness = 0;
  let changed = 0;
  for (const of of spans) {
    if (!linearise(of)) {
      taken.ok = false;
      return;
    }
    taken.unbalanced = Math.max(taken.unbalanced, of.unbalanced);
    const { change } = of.held;
    const drive = activationDrive(of.held);
    if (!drive) continue;
    const { rate } = drive;
    const { u } = of.span;
    const f = drive.force;
    taken.alongMotion += f[0] * u[3] + f[1] * u[4] + f[2] * u[5];
    changed += f[0] * change[3] + f[1] * change[4] + f[2] * change[5];
    taken.stiffness += f[0] * rate[3] + f[1] * rate[4] + f[2] * rate[5];
  }
  if (balance && Math.abs(taken.stiffness) > SLACK) {
    const wanted = -(taken.alongMotion + changed) / taken.stiffness;
    taken.motion = Math.max(-LONGEST, Math.min(LONGEST, wanted));
  }
  for (const of of spans) {
    update(of, taken.motion);
    if (!taken.ok) return;
    if (activationDrive(of.held) && taken.motion !== 0) setInelasticControls(of, of.share, of.motion + taken.motion);
  }
}

/** Below this stiffness, N/mm, a motion does not act on the wire at all. */
const SLACK = 1e-9;
/** Longest step of a free motion, mm: a wire near its plastic moment would run away. */
const LONGEST = 2;

const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
const pose = new Float64Array(6);

function linearise(of: InelasticSpan): boolean {
  const { held, span, columns } = of;
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
  const drive = activationDrive(held);
  if (drive) {
    missingRate(held.end, drive.rate);
    if (drive.kind !== 'move-end') {
      applyPose(held.end, span, columns, WIDTH * last + 42, pose, 0, 1);
      for (let k = 0; k < 6; k++) drive.rate[k] = -pose[k];
    }
    solveFactorised(matrix, 6, pivots, drive.rate);
  }
  return true;
}

/** u's moments about the tangent and up and its force sideways, with the pose that each would change. */
const OUT_OF_PLANE = [
  [0, 0],
  [1, 1],
  [5, 5],
] as const;

/** Applies the change of u and of the motion to nodes and curvatures. */
function update(of: InelasticSpan, motion: number): void {
  const { held, span, columns, curvatureColumns, curvature } = of;
  const { change } = held;
  const drive = activationDrive(held);
  const { u, rotation, position, defect, mesh } = span;
  if (motion !== 0 && drive) for (let k = 0; k < 6; k++) change[k] += drive.rate[k] * motion;
  const drawn = drive && drive.kind !== 'move-end' ? motion : 0;
  let largestRotation = 0;
  let largestDisplacement = 0;
  let defectRotation = 0;
  for (let i = mesh.steps; i > 0; i--) {
    combine(columns, WIDTH * i, change, drawn, span.planar ? POSE_IN_PLANE : ALL, moved);
    const angle2 = moved[0] * moved[0] + moved[1] * moved[1] + moved[2] * moved[2];
    largestRotation = Math.max(largestRotation, angle2);
    largestDisplacement = Math.max(largestDisplacement, moved[3] ** 2 + moved[4] ** 2 + moved[5] ** 2);
    turnNode(rotation, 4 * i, moved[0], moved[1], moved[2], angle2);
    for (let k = 0; k < 3; k++) position[3 * i + k] += moved[3 + k];
    defectRotation = Math.max(defectRotation, square(defect, 6 * i));
    combine(curvatureColumns, WIDTH * (i - 1), change, drawn, span.planar ? CURVATURE_IN_PLANE : ALL, moved);
    for (let k = 0; k < 6; k++) curvature[6 * i - 6 + k] += moved[k];
  }
  for (let k = 0; k < 6; k++) u[k] += change[k];
  const lever = 0.25 * spanLength(span);
  const floor = 1e-5 / (span.compliance.side * 4 * lever);
  const size = floor + Math.sqrt(square(u, 0)) + lever * Math.sqrt(square(u, 3));
  const changed = Math.sqrt(square(change, 0)) + lever * Math.sqrt(square(change, 3));
  taken.rotation = Math.max(taken.rotation, Math.sqrt(largestRotation));
  taken.displacement = Math.max(taken.displacement, Math.sqrt(largestDisplacement));
  taken.defectRotation = Math.max(taken.defectRotation, Math.sqrt(defectRotation));
  taken.force = Math.max(taken.force, changed / size);
  taken.ok = taken.ok && Number.isFinite(largestRotation + largestDisplacement + changed + defectRotation);
}

const moved = new Float64Array(6);
/** Rows that can be other than 0. */
const ALL = [0, 1, 2, 3, 4, 5];
const POSE_IN_PLANE = [2, 3, 4];
const CURVATURE_IN_PLANE = [2, 5];

/** Seventh column, six columns times the change of u, eighth times the motion. */
function combine(
  from: Float64Array,
  at: number,
  change: Float64Array,
  motion: number,
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
    if (motion !== 0) sum += from[at + 42 + r] * motion;
    into[r] = sum;
  }
}

function square(a: Float64Array, at: number): number {
  return a[at] * a[at] + a[at + 1] * a[at + 1] + a[at + 2] * a[at + 2];
}
