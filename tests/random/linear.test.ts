import { expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceDesign } from '#core/design';
import { elasticCentre } from '../oracle/elastic-centre';
import { randomDesign, randomNumbers } from './random-designs';

/** So small that what is quadratic in it stays far below the tolerance. */
const part = 1e-5;

test('500 random planar loops in the linear range agree with the elastic-centre formula (handbook 3.10)', () => {
  const random = randomNumbers(310);
  let [worstForce, worstMoment] = [0, 0];
  for (let k = 0; k < 500; k++) {
    const design = planarAndSmall(randomDesign(random));
    const expected = elasticCentre(design, { x: part, y: 0, turn: 0 });
    const run = analyseAppliance(moved(design), { compliance: 'bending-only', mesh: 'strict' });
    const state = run.stages[0]?.state;
    if (!state) throw new Error(JSON.stringify(run.failure ?? run.stages[0]?.failure));
    const [first, last] = state.wrenches;
    const force = Math.hypot(...expected.first.force);
    for (const axis of [0, 1] as const) {
      worstForce = Math.max(worstForce, Math.abs(first.force[axis] - expected.first.force[axis]) / force);
    }
    // The formula gives moments at the slots' edges, the analysis at their middles.
    const arms = design.attachments.map(({ length }) => length / 2);
    const moments = [
      expected.first.moment + arms[0] * expected.first.force[1],
      expected.last.moment - arms[1] * expected.last.force[1],
    ];
    const scale = Math.max(...moments.map(Math.abs));
    worstMoment = Math.max(
      worstMoment,
      Math.abs(first.moment[2] - moments[0]) / scale,
      Math.abs(last.moment[2] - moments[1]) / scale,
    );
  }
  console.log(
    `elastic centre, 500 random loops: force within ${worstForce.toExponential(1)}, moment within ${worstMoment.toExponential(1)}`,
  );
  // Quadratic terms are of the order of the angles, 1e-5 rad; the strict mesh integrates moments to 1e-6.
  expect(worstForce).toBeLessThan(1e-4);
  expect(worstMoment).toBeLessThan(1e-4);
}, 60_000);

function planarAndSmall(design: ApplianceDesign): ApplianceDesign {
  const elements = design.elements.map((element) => ({
    ...element,
    preactivation: [0, 0, element.preactivation[2] * part] as const,
  }));
  return { ...design, elements, activation: undefined };
}

function moved(design: ApplianceDesign): ApplianceDesign {
  const attachments = design.attachments.map((attachment, i) => {
    const [x, y, z] = attachment.seatedWire.position;
    return i === 0
      ? attachment
      : { ...attachment, seatedWire: { ...attachment.seatedWire, position: [x + part, y, z] as const } };
  });
  return { ...design, attachments };
}
