/**
 * Wire past yield that is let in or drawn out at a slot's edge. In the slot it lies straight; a section that leaves it is bent at once to
 * the moment at the edge, and one that is drawn to the edge has borne that moment last. Either keeps what this leaves in it: what is let in
 * has yielded by the edge's moment at the time, however little it bears further in, and what was drawn out, and straightened in the slot, comes
 * back so after release.
 *
 * So a Gauss point adds to its history only while its own place on the wire is out of the slot (where the edge cuts its step it goes on
 * to stand for what is left of that, as wire that has no more history), and while the edge yields the path stops at every such place.
 */

import { hasSlipped, mostStrain } from '../../material/fibre-history';
import type { FibreSection } from '../../material/fibre-section';
import { reachOfLimit } from '../../material/fibre-slip';
import { elasticLimit } from '../../material/uniaxial-law';
import { A11, A12, A21, A22, cutStep, type InelasticSpan, sectionStrain } from './inelastic-span';

const ENDS = ['start', 'end'] as const;
type End = (typeof ENDS)[number];

/** Where the Gauss points of a step stand, from its start over its length. */
const PLACES = [A11 + A12, A21 + A22];

/** A place nearer to the slot's edge than this share of its step is at the edge. */
const NEAR = 0.05;

/** mm: equilibria are not found any closer. */
const LEAST = 1e-6;

/** A section so near to its limit, as a share of it, has come there by yielding. */
const AT_LIMIT = 1 - 1e-6;

/** A section bent to less, as a multiple of its first yield, keeps about a hundredth of that or less. */
const WORTH = 1.1;

/** Whether a Gauss point's own place on the wire lies in a slot. */
export function liesInSlot(of: InelasticSpan, point: number): boolean {
  if (!keeps(of.sections[point >> 1])) return false;
  const length = of.lengths[point >> 1];
  const inSlot = length - of.span.mesh.ownLength[point >> 1];
  return inSlot > NEAR * length && placeFromSlot(of, point) < inSlot - NEAR * length;
}

/** Superelastic wire comes back by itself: to leave out what passing an edge has left in it errs by less than 1 % (slot-edge-yielding.test.ts). */
function keeps({ law }: FibreSection): boolean {
  return law.kind === 'elastic-plastic';
}

/** Of a Gauss point of an arm, mm from that end of its step which is drawn into the slot first. */
function placeFromSlot({ lengths, arms }: InelasticSpan, point: number): number {
  const i = point >> 1;
  return PLACES[isNear(i < arms.start.steps, point) ? 0 : 1] * lengths[i];
}

/** Whether it is the one of its step that is nearer to the slot. */
function isNear(isAtStart: boolean, point: number): boolean {
  return isAtStart === (point % 2 === 0);
}

/**
 * Notes, of a Gauss point that is drawn to the slot's edge, the strain that it has there: more than it has as it stands for what is left of
 * its step, by the difference to the other section of that, where both have yielded or the other never has.
 */
export function noteStrainAtEdge(of: InelasticSpan, point: number): void {
  const i = point >> 1;
  const { drawn, before } = i < of.arms.start.steps ? of.arms.start : of.arms.end;
  const inSlot = of.lengths[i] - of.span.mesh.ownLength[i];
  if (!(inSlot > 0 && drawn > before.drawn)) return;
  if (!keeps(of.sections[i]) || Math.abs(placeFromSlot(of, point) - inSlot) > NEAR * of.lengths[i]) return;
  const other = point ^ 1;
  const alike =
    useOfSection(of, point) > 1 &&
    (!hasSlipped(of.sections[i], of.history, of.historyAt[other]) || useOfSection(of, other) > 1);
  const further = !alike ? 0 : isNear(i < of.arms.start.steps, point) ? TO_EDGE : -1 - TO_EDGE;
  for (let c = 0; c < 3; c++) {
    const strain = sectionStrain(of, point, c);
    of.strainAtEdge[3 * point + c] = strain + further * (strain - sectionStrain(of, other, c));
  }
}

/** From the Gauss point of a step that is nearer to one of its ends to there, over the distance of the two. */
const TO_EDGE = PLACES[0] / (PLACES[1] - PLACES[0]);

/** Notes of each arm how it stands in an equilibrium. */
export function keepArms(of: InelasticSpan): void {
  for (const at of ENDS) {
    const { steps, drawn, before } = of.arms[at];
    if (steps === 0) continue;
    before.drawn = drawn;
    before.use = useAtEdge(of, at);
  }
}

/**
 * How many times the way since the last equilibrium may be taken until the path has to stop: where a place of a Gauss point next passes a
 * slot's edge that yields, from that equilibrium or, `onwards`, from the present one.
 */
export function waysToNextPlace(spans: readonly InelasticSpan[], onwards: boolean): number {
  let least = Number.POSITIVE_INFINITY;
  for (const of of spans) {
    for (const at of ENDS) {
      const { steps, drawn, before } = of.arms[at];
      const way = drawn - before.drawn;
      if (steps === 0 || !(Math.abs(way) > LEAST)) continue;
      const use = useAtEdge(of, at);
      if (onwards ? use <= 1 : Math.max(before.use, use) <= 1) continue;
      const next = toNextPlace(of, at, onwards ? drawn : before.drawn, Math.sign(way)) / Math.abs(way);
      const toYield = !onwards && before.use < 1 ? (1 - before.use) / (use - before.use) : 0;
      least = Math.min(least, Math.max(next, toYield));
    }
  }
  return least;
}

/** How far the step at the edge of a slot is on its way to yielding, over 1 where it does. */
function useAtEdge(of: InelasticSpan, at: End): number {
  let i = cutStep(of, at);
  const inward = at === 'start' ? 1 : -1;
  while (of.span.mesh.h[i] === 0) i += inward;
  return Math.max(useOfSection(of, 2 * i), useOfSection(of, 2 * i + 1));
}

function useOfSection(of: InelasticSpan, point: number): number {
  const section = of.sections[point >> 1];
  if (!keeps(section)) return 0;
  const twist = sectionStrain(of, point, 0);
  const up = sectionStrain(of, point, 1);
  const side = sectionStrain(of, point, 2);
  const use = mostStrain(section, twist, up, side) / (WORTH * elasticLimit(section.law));
  if (use <= 1) return use;
  const reach = reachOfLimit(section, of.history, of.historyAt[point], twist, up, side);
  return Math.min(use, reach / AT_LIMIT);
}

/** Wire, mm, that can be drawn (`way` 1) or let in (-1) with `drawn` drawn out until the next place of a Gauss point passes the edge. */
function toNextPlace({ span, lengths, arms }: InelasticSpan, at: End, drawn: number, way: number): number {
  const { steps, reserve } = arms[at];
  const inSlot = reserve + drawn;
  let next = Number.POSITIVE_INFINITY;
  let from = 0;
  for (let k = 0; k < steps; k++) {
    const length = lengths[at === 'start' ? k : span.mesh.steps - 1 - k];
    for (const place of PLACES) {
      const ahead = way * (from + place * length - inSlot);
      if (ahead > NEAR * length) next = Math.min(next, ahead);
    }
    from += length;
  }
  return next;
}
