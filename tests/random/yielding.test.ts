/** Random designs far past yield: followed through engagement, stages, release and engagement again, or refused with a cause. */
import { expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { sectionProperties } from '#core/material/section';
import { randomDesign, randomNumbers } from './random-designs';

const SEED = 20_260_301;
const DESIGNS = 80;

it(`follows ${DESIGNS} random designs, seed ${SEED}`, { timeout: 120_000 }, () => {
  const random = randomNumbers(SEED);
  let followed = 0;
  let useOfYield = 0;
  for (let k = 0; k < DESIGNS; k++) {
    const design = randomDesign(random);
    // 1 % of the modulus, what alloys that do not state their hardening get.
    const law = { kind: 'elastic-plastic', yield: design.alloy.yield, hardening: 0.01 * design.alloy.modulus } as const;
    const elastic = analyseAppliance(design);
    const analysis = analyseAppliance({ ...design, alloy: { ...design.alloy, law } });
    expect(analysis.unfollowed, `design ${k}`).toBeUndefined();
    const { yielding } = analysis;
    if (!yielding) continue;
    followed++;
    useOfYield = Math.max(useOfYield, ...elastic.stages.map(({ state }) => (state?.stress ?? 0) / design.alloy.yield));
    // The wire's way of bending in the slots is the only one that may stop a trial activation.
    expect(['bend-in-slot', undefined], `design ${k}`).toContain(yielding.failure?.reason);
    for (const [i, { state, failure }] of analysis.stages.entries()) {
      if (!elastic.stages[i].state) continue;
      expect(failure, `design ${k}`).toBeUndefined();
      const [a, b] = state!.wrenches;
      const size = Math.hypot(...a.force);
      for (let c = 0; c < 3; c++) expect(Math.abs(a.force[c] + b.force[c])).toBeLessThan(1e-3 * size + 1e-6);
      // Fibres bear the yield strength, what they harden by pressing a bend of 0.6 mm radius straight (outer strain t / 2R,
      // handbook 3.6), and the stretch, which is elastic.
      const { area, height, width } = sectionProperties(design.section);
      const strain = Math.hypot(height, width) / (2 * 0.6);
      expect(state!.fibreStress!).toBeLessThan(design.alloy.yield + strain * law.hardening + size / area);
    }
  }
  console.log(
    `${followed} of ${DESIGNS} yield, up to ${useOfYield.toFixed(1)} times the yield strength if they were elastic`,
  );
  expect(followed).toBeGreaterThan(DESIGNS / 2);
});
