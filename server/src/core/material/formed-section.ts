/**
 * The stress that bending by hand leaves in a section: bent to a curvature under load and let go, as often as it was
 * bent. The wire is elastic and perfectly plastic while it is formed, as for its springback (springback.ts; handbook 3.6):
 * a law with a straight line of hardening would go on rising over the large strains of a tight bend. What it
 * has been through counts from there on. A bend opened against its last sense yields at what is left of the yield moment
 * (handbook 3.4, Bauschinger effect), one that is bent on at its plastic moment.
 */
import { FIBRES, historySize } from './fibre-history';
import type { FibreSection } from './fibre-section';
import { commit } from './fibre-slip';
import { bend, sectionAnswer } from './section-moments';
import { elasticLimit } from './uniaxial-law';

/**
 * Writes what forming leaves in a section that had no history into `history` at `at`, with strains counted from its own
 * free curvature (about up and side, rad/mm). `furthest`: what it was first bent to over that; above 1 it was bent back.
 */
export function formSection(
  section: FibreSection,
  freeUp: number,
  freeSide: number,
  furthest: number,
  history: Float64Array,
  at: number,
): void {
  const { count, up, side } = section;
  const ductile = perfectlyPlastic(section);
  history.fill(0, at, at + historySize(section));
  left.up = left.side = lastMoment.side = 0;
  if (furthest > 1) bendTo(ductile, furthest * freeUp, furthest * freeSide, history, at);
  bendTo(ductile, freeUp, freeSide, history, at);
  for (let k = 0; k < count; k++) history[at + FIBRES + k] -= left.up * side[k] - left.side * up[k];
  commit(section, history, at, 0, 0, 0);
}

/**
 * Share of the moment of first yield (N mm) that is left to a bend about side against its last sense, 0 to 1; `section` of
 * layers, free curvature in rad/mm.
 */
export function yieldLeft(section: FibreSection, firstYield: number, free: number, furthest: number): number {
  const size = historySize(section);
  if (scratch.length < size) scratch = new Float64Array(size);
  formSection(section, 0, free, furthest, scratch, 0);
  // Taking the moment of the last bend off again leaves the outermost fibre loaded the other way by what was beyond yield.
  return Math.max(0, Math.min(1, 2 - Math.abs(lastMoment.side) / firstYield));
}

function perfectlyPlastic(section: FibreSection): FibreSection {
  const { law } = section;
  if (law.kind !== 'elastic-plastic') return section;
  return { ...section, law: { ...law, modulus: law.modulus + law.parallel, parallel: 0 }, torsion: undefined };
}

/** Bends to where, let go, the section is left with a curvature; that curvature is then in `left`. */
function bendTo(section: FibreSection, up: number, side: number, history: Float64Array, at: number): void {
  const { stiffnessUp, stiffnessSide, farUp, farSide } = section;
  // On past it by more springback than there can be, from where Newton comes down to it without passing it.
  const [byUp, bySide] = [up - left.up, side - left.side];
  const by = Math.hypot(byUp, bySide);
  if (by === 0) return;
  const most = (MOST_SPRINGBACK * elasticLimit(section.law)) / Math.min(farUp || farSide, farSide || farUp);
  let loadUp = up + (byUp / by) * most;
  let loadSide = side + (bySide / by) * most;
  for (let k = 0; k < MOST_ITERATIONS; k++) {
    bend(section, history, at, loadUp, loadSide, answer);
    const a = loadUp - relative(answer.momentUp, stiffnessUp) - up;
    const b = loadSide - relative(answer.momentSide, stiffnessSide) - side;
    if (Math.hypot(a, b) <= CLOSE * by) break;
    // What is left changes by what load adds, less what springs back of it.
    const uu = 1 - relative(answer.upUp, stiffnessUp);
    const ss = 1 - relative(answer.sideSide, stiffnessSide);
    const us = -relative(answer.upSide, stiffnessUp);
    const su = -relative(answer.upSide, stiffnessSide);
    const determinant = uu * ss - us * su;
    if (determinant > LEAST_DETERMINANT) {
      loadUp -= (ss * a - us * b) / determinant;
      loadSide -= (uu * b - su * a) / determinant;
    } else {
      loadUp -= a;
      loadSide -= b;
    }
  }
  bend(section, history, at, loadUp, loadSide, answer);
  commit(section, history, at, 0, loadUp, loadSide);
  left.up = loadUp - relative(answer.momentUp, stiffnessUp);
  left.side = loadSide - relative(answer.momentSide, stiffnessSide);
  lastMoment.side = answer.momentSide;
}

/** Layers have no width to bend about. */
function relative(value: number, stiffness: number): number {
  return stiffness > 0 ? value / stiffness : 0;
}

/** Over the yield curvature: shape factors are 1.5 of a rectangle, 1.7 of a circle, 2 of a square about its diagonal. */
const MOST_SPRINGBACK = 2.2;
const MOST_ITERATIONS = 60;
const CLOSE = 1e-9;
const LEAST_DETERMINANT = 1e-9;

const left = { up: 0, side: 0 };
const lastMoment = { side: 0 };
const answer = sectionAnswer();
let scratch = new Float64Array(0);
