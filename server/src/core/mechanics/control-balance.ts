/** The balance of what drives a wire: how far it slides through its attachments, and where a free motion comes to rest. */
import { factorise, solveFactorised } from '../math/dense';
import type { WireControls } from './wire-controls';

/** Controls of a wire at most. */
const MOST_CONTROLS = 32;

/** Filled from the spans, with the controls in rows; then `change` and `stiffness` are the answer. */
export const balance = {
  /** Per pair of controls, change of the force along the first by the second, N/mm. */
  matrix: new Float64Array(MOST_CONTROLS * MOST_CONTROLS),
  /** Per control: force along it, N, and the same after the change of u at given controls. */
  forces: new Float64Array(MOST_CONTROLS),
  unbalanced: new Float64Array(MOST_CONTROLS),
  /** mm */
  change: new Float64Array(MOST_CONTROLS),
  /** Of the motion, with the sliding wire following it, N/mm. */
  stiffness: 0,
  /** A cinched end is caught, or let go, other than before. */
  changed: false,
};

export function clearBalance(count: number): void {
  balance.matrix.fill(0, 0, count * count);
  balance.forces.fill(0, 0, count);
  balance.unbalanced.fill(0, 0, count);
}

/**
 * Change of the controls from their balance: forces + matrix × change + drag = 0 for those that slide, and, where it is `free`,
 * without drag for the motion. A cinched end slides only where nothing pulls it in. False where the system is singular.
 */
export function solveControls({ amounts, oneWay, drag, caught }: WireControls, free: boolean): boolean {
  const count = amounts.length;
  const { matrix, forces, unbalanced, change } = balance;
  balance.changed = false;
  change.fill(0, 0, count);
  let slides = 0;
  for (let c = 1; c < count; c++) {
    const way = oneWay[c];
    if (way !== 0) {
      // Held where the wire pulls in harder than it has slid out.
      const held = way * (forces[c] + drag[c]) > way * amounts[c] * CINCH_STIFFNESS;
      if (held !== (caught[c] === 1)) balance.changed = true;
      caught[c] = held ? 1 : 0;
      if (held) {
        change[c] = -amounts[c];
        continue;
      }
    }
    freeControls[slides++] = c;
  }
  for (let r = 0; r < slides; r++) {
    const c = freeControls[r];
    rightSide[r] = -(unbalanced[c] + drag[c]);
    coupling[r] = matrix[c * count];
    for (let k = 0; k < count; k++) rightSide[r] -= change[k] * matrix[c * count + k];
    for (let k = 0; k < slides; k++) system[r * slides + k] = matrix[c * count + freeControls[k]];
  }
  if (slides > 0) {
    if (factorise(system, slides, pivots) === 0) return false;
    solveFactorised(system, slides, pivots, rightSide);
    solveFactorised(system, slides, pivots, coupling);
  }
  // The motion, with the sliding wire following it.
  let stiffness = matrix[0];
  let force = unbalanced[0];
  for (let k = 0; k < slides; k++) {
    const by = matrix[freeControls[k]];
    stiffness -= by * coupling[k];
    force += by * rightSide[k];
  }
  for (let k = 1; k < count; k++) force += caught[k] === 1 && oneWay[k] !== 0 ? matrix[k] * change[k] : 0;
  balance.stiffness = stiffness;
  if (free && Math.abs(stiffness) > SLACK) change[0] = -force / stiffness;
  for (let k = 0; k < slides; k++) change[freeControls[k]] = rightSide[k] - coupling[k] * change[0];
  return true;
}

/** Below this stiffness, N/mm, a motion does not act on the wire at all. */
const SLACK = 1e-9;
/** N/mm; decides only how eagerly a cinched end is held. */
const CINCH_STIFFNESS = 1;

const system = new Float64Array(MOST_CONTROLS * MOST_CONTROLS);
const pivots = new Int32Array(MOST_CONTROLS);
const freeControls = new Int32Array(MOST_CONTROLS);
const rightSide = new Float64Array(MOST_CONTROLS);
const coupling = new Float64Array(MOST_CONTROLS);
