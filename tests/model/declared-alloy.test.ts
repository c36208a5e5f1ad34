import { describe, expect, it } from 'vitest';
import { modulusFromRate, yieldFromForce } from '#model/three-point-bending';
import { problemsOf } from './fixture';
import { resolveAppliance } from './resolve-text';

const INCH = 25.4;

describe('an alloy by its three-point bending test', () => {
  it('has the modulus of the check cases (handbook C10 and C11: k = 48 E I / l³, l = 10 mm; given to six digits)', () => {
    expect(modulusFromRate(11.5691, { thickness: 0.016 * INCH, width: undefined }) / 180_000).toBeCloseTo(1, 4);
    expect(modulusFromRate(14.1101, { thickness: 0.017 * INCH, width: 0.025 * INCH }) / 69_000).toBeCloseTo(1, 4);
  });

  it('yields at the stress of a section that yields throughout (plastic moments b h² / 4 and d³ / 6 times yield)', () => {
    const [b, h] = [0.6, 0.4];
    expect(yieldFromForce((1000 * b * h ** 2) / 4 / 2.5, { thickness: h, width: b })).toBeCloseTo(1000, 9);
    expect(yieldFromForce((1000 * h ** 3) / 6 / 2.5, { thickness: h, width: undefined })).toBeCloseTo(1000, 9);
  });

  const file = (alloy: string) => `use "alloys"
alloy declared {
  ${alloy}
}
appliance v {
  wire round 0.016 in of declared
  path running mesial { straight 2 mm seat a straight 5 mm seat b straight 2 mm }
  tube a
  hook b moved 0.3 mm gingival
}
`;
  const test =
    'bending_rate = 11.5691 N/mm bending_force = 9 N bending_thickness = 0.016 in, poisson = 0.3 inner_radius = 1';

  it('is written as the maker declares it', () => {
    const { design } = resolveAppliance(file(test));
    expect((design?.alloy.modulus ?? 0) / 180_000).toBeCloseTo(1, 4);
    expect(design?.alloy.yield).toBeCloseTo((9 * 2.5) / ((0.016 * INCH) ** 3 / 6), 6);
    const declared = resolveAppliance(file(`${test} modulus = 170 GPa yield = 1500 MPa`)).design?.alloy;
    expect([declared?.modulus, declared?.yield]).toEqual([170_000, 1500]);
  });

  it('says what is missing', () => {
    const missing = problemsOf(
      'alloy declared { bending_rate = 11.6 N/mm bending_force = 9 N poisson = 0.3 inner_radius = 1 }',
    );
    expect(missing.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      expect.stringMatching(/^alloy-property-missing: .* has no modulus/),
      expect.stringMatching(/^alloy-property-missing: .* has no yield/),
    ]);
  });
});
