/**
 * A gauge reading corrects the modulus. The forces of an elastic wire between given places are in proportion to its modulus
 * (Poisson's ratio kept), so that one solution tells the modulus that gives the reading.
 */
import type { AnalysisOptions, ApplianceAnalysis } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { apply, dot } from '#core/math/vector';
import { FORCE, LENGTH, STRESS } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import { alloyFigures } from '../alloy-figures';
import { gaugeImplausible } from '../diagnostics/gauge-implausible';
import type { Problem } from '../problem';
import type { Gauged, ResolvedAppliance } from '../resolved';

/** Beyond a factor of two it is not the alloy that differs. */
const MOST_CORRECTION = 2;
/** N; less cannot be read off a gauge. */
const LEAST_FORCE = 0.01;

export function correctByGauge(
  { gauge, alloy }: ResolvedAppliance,
  design: ApplianceDesign,
  analyse: (design: ApplianceDesign, options: Partial<AnalysisOptions>) => ApplianceAnalysis,
  preferences: UnitPreferences,
): { readonly gauged: Gauged | undefined; readonly problems: readonly Problem[] } {
  if (!gauge || !design.activation) return { gauged: undefined, problems: [] };
  const refuse = (why: string) => ({
    gauged: undefined,
    problems: [gaugeImplausible.at(gauge.node.span, `${why} The modulus is left as the alloy states it.`)],
  });
  const [force, amount] = [
    formatQuantity({ value: gauge.force, dimension: FORCE }, preferences),
    formatQuantity({ value: gauge.activation, dimension: LENGTH }),
  ];
  if (design.loads.length > 0) {
    return refuse('Something else pulls as well, so that the reading is not the force of the wire alone.');
  }
  const { motion } = design.activation;
  const stage = { ...design, activation: { motion, stages: [gauge.activation] } };
  const state = analyse(stage, { yielding: 'elastic' }).stages[0]?.state;
  const wrench = state?.wrenches[motion.attachment];
  if (!wrench) return refuse(`The wire has no equilibrium at ${amount}, where the gauge was read.`);
  const { axes } = design.attachments[motion.attachment];
  const computed = Math.abs(
    motion.kind === 'pull' ? wrench.force[0] : dot(apply(axes, wrench.force), motion.direction),
  );
  const factor = gauge.force / computed;
  if (computed < LEAST_FORCE || factor > MOST_CORRECTION || factor < 1 / MOST_CORRECTION) {
    const shown = formatQuantity({ value: computed, dimension: FORCE }, preferences);
    return refuse(
      `The gauge shows ${force} at ${amount}, but this wire gives ${shown}, too far from it for a difference of the alloy.`,
    );
  }
  const stated = design.alloy.modulus;
  const corrected = stated * factor;
  const gauged = { computed, stated, corrected, design: { ...design, alloy: { ...design.alloy, modulus: corrected } } };
  const range = alloy && alloyFigures(alloy).find(({ name }) => name === 'modulus')?.range;
  if (!range || (corrected >= range.low.value && corrected <= range.high.value)) return { gauged, problems: [] };
  const stress = (value: number) => formatQuantity({ value, dimension: STRESS });
  const message = `The reading of ${force} at ${amount} asks for a modulus of ${stress(corrected)}; ${design.alloy.name} has ${stress(range.low.value)} to ${stress(range.high.value)}.`;
  return {
    gauged,
    problems: [gaugeImplausible.at(gauge.node.span, `${message} It is computed with it all the same.`)],
  };
}
