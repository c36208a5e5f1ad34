/** What goes before a section's fibres tells of them what a look at each of them would. */
import { describe, expect, it } from 'vitest';
import type { Section } from '#core/design';
import { FIBRES, historySize, strainAtMost, stressAtMost } from '#core/material/fibre-history';
import { griddedSection, layeredSection } from '#core/material/fibre-section';
import { commit, committed, largestStress } from '#core/material/fibre-slip';
import { bend, bendAndTwist, sectionAnswer, twistedAnswer } from '#core/material/section-moments';
import { twistedSection } from '#core/material/twisted-section';
import { elasticLimit, fibreLaw, fibreStressAt } from '#core/material/uniaxial-law';
import { randomNumbers } from '../random/random-designs';

const E = 69_000;
const G = E / (2 * (1 + 0.33));
const rectangle: Section = { kind: 'rectangle', height: 0.4826, width: 0.635, cornerRadius: 0.05 };
const laws = {
  plastic: fibreLaw({ kind: 'elastic-plastic', yield: 930, hardening: 690 }, E),
  superelastic: fibreLaw(
    { kind: 'superelastic', loadingPlateau: 450, unloadingPlateau: 200, transformationStrain: 0.05 },
    E,
  ),
};

describe.each(Object.entries(laws))('%s', (_, law) => {
  const section = twistedSection(rectangle, law, G);
  const random = randomNumbers(5);
  const history = new Float64Array(historySize(section));
  // Twist and curvatures, mm⁻¹: four steps of five are small, and many of these slip nowhere.
  let at: [number, number, number] = [0, 0, 0];
  const goOn = () => {
    const by = random() < 0.2 ? 1 : 0.005;
    at = at.map((x, c) => (by === 1 ? 0 : x) + by * (c === 0 ? 1 : 0.2) * (random() - 0.5)) as typeof at;
    return at;
  };

  it('bears in bending what its fibres bear, one by one, on a random way', () => {
    const bent = griddedSection(rectangle, law);
    const own = new Float64Array(historySize(bent));
    const answer = sectionAnswer();
    const { count, up, side, area } = bent;
    let still = 0;
    for (let k = 0; k < 500; k++) {
      const [, curvatureUp, curvatureSide] = goOn();
      bend(bent, own, 0, curvatureUp, curvatureSide, answer);
      let [momentUp, momentSide] = [0, 0];
      for (let f = 0; f < count; f++) {
        const stress = fibreStressAt(law, curvatureUp * side[f] - curvatureSide * up[f], own[FIBRES + f]);
        momentUp += area[f] * side[f] * stress;
        momentSide -= area[f] * up[f] * stress;
      }
      const most = bent.stiffnessUp * 0.1;
      // By as much as a fibre may be beyond its limit and still count as within it.
      expect(Math.abs(answer.momentUp - momentUp)).toBeLessThan(1e-9 * most);
      expect(Math.abs(answer.momentSide - momentSide)).toBeLessThan(1e-9 * most);
      if (strainAtMost(bent, own, 0, 0, curvatureUp, curvatureSide) <= elasticLimit(law)) still++;
      commit(bent, own, 0, 0, curvatureUp, curvatureSide);
    }
    expect(still).toBeGreaterThan(10);
  });

  it('has no fibre beyond its bounds, and where it says that none slips none does', () => {
    let still = 0;
    for (let k = 0; k < 500; k++) {
      goOn();
      const strain = strainAtMost(section, history, 0, ...at);
      const [stress, most] = [largestStress, stressAtMost].map((of) => of(section, history, 0, ...at));
      commit(section, history, 0, ...at);
      if (strain > elasticLimit(law)) continue;
      still++;
      expect(committed.flow).toBe(0);
      expect(committed.reach * elasticLimit(law)).toBeLessThanOrEqual(strain * (1 + 1e-12));
      expect(stress).toBeLessThanOrEqual(most * (1 + 1e-12));
    }
    expect(still).toBeGreaterThan(10);
  });

  it('bears the same before and after its state becomes its history', () => {
    const [before, after] = [twistedAnswer(), twistedAnswer()];
    for (let k = 0; k < 100; k++) {
      goOn();
      bendAndTwist(section, history, 0, ...at, before);
      commit(section, history, 0, ...at);
      bendAndTwist(section, history, 0, ...at, after);
      for (const key of ['torque', 'momentUp', 'momentSide'] as const) {
        // By as much as a fibre may be beyond its limit and still count as within it, of the largest moments.
        expect(Math.abs(after[key] - before[key])).toBeLessThan(1e-7 * section.stiffnessUp);
      }
    }
  });
});

it('of layers bears what the whole of them bears', () => {
  const layers = layeredSection(rectangle, laws.plastic);
  expect(layers.size).toBeCloseTo(rectangle.height * rectangle.width - (4 - Math.PI) * 0.05 ** 2, 4);
});
