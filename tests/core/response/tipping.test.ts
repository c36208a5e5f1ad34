/** Centres of rotation against handbook section 6.2 (rows C50 and C51), and forces moved to centres of resistance. */
import { describe, expect, it } from 'vitest';
import type { Wrench } from '#core/analysis/analysis';
import { engageOnce } from '#core/analysis/engage-once';
import type { ApplianceDesign, ToothGroup } from '#core/design';
import { uniformNumbers } from '#core/math/random';
import { rotationMatrix } from '#core/math/rotation';
import {
  add,
  apply,
  cross,
  dot,
  identityMatrix,
  type Mat3,
  multiply,
  scale,
  subtract,
  type Vec3,
} from '#core/math/vector';
import { closureShare } from '#core/response/anchorage';
import { apexBelowResistance, groupSigma2, type RootOutline, sigma2 } from '#core/response/root';
import { tipping } from '#core/response/tipping';
import { imbalance, loadOnGroup, wrenchAtResistance } from '#core/response/tooth-group';
import { design, preactivate, straight } from '../designs';

const GROUP: ToothGroup = {
  name: 'group',
  attachments: [0],
  resistance: [0, 0, 0],
  axes: identityMatrix,
  rowSpread: 0,
  bothSides: false,
};
const section = { kind: 'round', diameter: 0.4 } as const;
const alloy = { name: 'steel', modulus: 180_000, poisson: 0.3, yield: 1e6, smallestInnerRadius: 1 };

const HEIGHT = 12;
/** From the bracket to the centre of resistance of the handbook's example: slot to crest 5 mm, 40 % of 12 mm below. */
const DEPTH = 5 + 0.4 * HEIGHT;

/** A pull toward distal at the bracket with a counter-couple of the given ratio. */
function pull(ratio: number): Wrench {
  const force = 1;
  // The pull tips the crown distally about the centre of resistance, the couple its crown mesially.
  return { force: [-force, 0, 0], moment: [0, 0, ratio * force - DEPTH * force] };
}

describe('constant product (C50; tolerance 1e-3 as the row states it)', () => {
  const square = sigma2(HEIGHT, 'parabolic');

  it('translation at M/F 9.800', () => {
    expect(DEPTH).toBeCloseTo(9.8, 9);
    expect(tipping(pull(9.8), square, 'along')?.rotationCentre).toBeUndefined();
    expect(Math.abs(tipping(pull(9.8), square, 'along')?.lineOfAction ?? 1)).toBeLessThan(1e-9);
  });

  it('controlled tipping about the apex at M/F 8.429', () => {
    expect(apexBelowResistance(HEIGHT)).toBeCloseTo(7.2, 9);
    expect(Math.abs((tipping(pull(8.429), square, 'along')?.rotationCentre ?? 0) - 7.2)).toBeLessThan(7.2e-3);
  });

  it('force alone turns about a point 1.0076 mm apical', () => {
    expect(Math.abs((tipping(pull(0), square, 'along')?.rotationCentre ?? 0) - 1.0076)).toBeLessThan(1e-3);
  });

  it('root movement about the bracket at M/F 10.808', () => {
    expect(Math.abs((tipping(pull(10.808), square, 'along')?.rotationCentre ?? 0) + 9.8)).toBeLessThan(9.8e-3);
  });

  it('a force across the arch turns by the same rule', () => {
    const wrench: Wrench = { force: [0, 0, 1], moment: [DEPTH, 0, 0] };
    // The force acts occlusal of the centre: its moment about mesial is -DEPTH times the force.
    const tipped = tipping({ force: [0, 0, 1], moment: [-DEPTH, 0, 0] }, square, 'across');
    expect(tipped?.lineOfAction).toBeCloseTo(DEPTH, 9);
    expect(tipped?.rotationCentre).toBeCloseTo(square / DEPTH, 9);
    expect(tipping(wrench, square, 'across')?.lineOfAction).toBeCloseTo(-DEPTH, 9);
  });

  it('a pure couple turns about the centre of resistance, and nothing has no centre', () => {
    expect(tipping({ force: [0, 0, 0], moment: [0, 0, 5] }, square, 'along')).toEqual({
      force: 0,
      lineOfAction: undefined,
      rotationCentre: 0,
    });
    expect(tipping({ force: [0, 0, 0], moment: [0, 0, 0] }, square, 'along')).toBeUndefined();
  });
});

describe('root outlines (C51; tolerance 1e-6 as the row states it)', () => {
  // Width of the outline at a depth below the crest, over its width there.
  const widths: Readonly<Record<RootOutline, (depth: number) => number>> = {
    triangular: (depth) => 1 - depth,
    parabolic: (depth) => Math.sqrt(1 - depth),
    constant: () => 1,
  };
  for (const [outline, width] of Object.entries(widths) as [RootOutline, (depth: number) => number][]) {
    it(`${outline}: centre and second moment, integrated`, () => {
      // Depth 1 - t² takes the square root at the tip out of the integrand; Simpson's rule.
      const integral = (of: (depth: number) => number): number => {
        const steps = 2000;
        let sum = 0;
        for (let k = 0; k <= steps; k++) {
          const t = k / steps;
          const weight = k === 0 || k === steps ? 1 : k % 2 === 1 ? 4 : 2;
          sum += weight * of(1 - t * t) * width(1 - t * t) * 2 * t;
        }
        return sum / (3 * steps);
      };
      const area = integral(() => 1);
      const centre = integral((depth) => depth) / area;
      const second = integral((depth) => (depth - centre) ** 2) / area;
      expect(Math.abs(centre - (1 - apexBelowResistance(1, outline)))).toBeLessThan(1e-6);
      expect(Math.abs(second - sigma2(1, outline))).toBeLessThan(1e-6);
    });
  }
});

describe('two teeth rigidly tied', () => {
  it('resist a tip like both on their own about their common centre', () => {
    // Each moves by c f / A under its share of the load and turns by c m / (A σ²): the moment that turns both by one
    // angle θ is the sum of what turns each tooth and of what moves it up or down at its place.
    const [first, second, apart] = [400, 200, 9];
    const square = sigma2(12);
    const centre = (second * apart) / (first + second);
    const angle = 0.01;
    const moment =
      (first + second) * square * angle + first * centre ** 2 * angle + second * (apart - centre) ** 2 * angle;
    const rowSpread = (first * centre ** 2 + second * (apart - centre) ** 2) / (first + second);
    const group = { rootLength: 12, rowSpread };
    expect(moment / ((first + second) * groupSigma2(group, 'tip'))).toBeCloseTo(angle, 12);
    expect(groupSigma2(group, 'torque')).toBeCloseTo(square, 12);
  });
});

describe('forces at the centre of resistance', () => {
  const random = uniformNumbers(611);
  const number = (size: number): number => size * (2 * random() - 1);
  const vector = (size: number): Vec3 => [number(size), number(size), number(size)];
  const axes = (mirrored: boolean): Mat3 => {
    const turned = rotationMatrix(vector(1));
    return mirrored ? multiply(turned, [1, 0, 0, 0, 1, 0, 0, 0, -1]) : turned;
  };
  const base = design([straight(20)], [{ station: 0 }, { station: 10 }, { station: 20 }], section, alloy);

  it('do the same work on any motion of the group as the forces at its attachments (200 random loads)', () => {
    for (let k = 0; k < 200; k++) {
      const mirrored = k % 2 === 1;
      const own = base.attachments.map((attachment) => ({ ...attachment, axes: axes(mirrored) }));
      const loaded: ApplianceDesign = { ...base, attachments: own };
      const state = {
        wrenches: own.map((): Wrench => ({ force: vector(2), moment: vector(20) })),
        places: own.map(() => vector(15)),
      };
      const group: ToothGroup = {
        ...GROUP,
        attachments: [0, 2],
        resistance: vector(15),
        axes: axes(mirrored),
      };
      const [velocity, turn] = [vector(1), vector(1)];
      // Power at the attachments: a moment about left-handed axes is told with the other sign.
      const sign = mirrored ? -1 : 1;
      const expected = group.attachments.reduce((power, index) => {
        const { force, moment } = state.wrenches[index];
        const point = add(velocity, cross(turn, subtract(state.places[index], group.resistance)));
        const pulled = dot(apply(own[index].axes, force), point);
        return power + pulled + sign * dot(apply(own[index].axes, moment), turn);
      }, 0);
      const { force, moment } = wrenchAtResistance(loaded, state, group);
      const power = dot(apply(group.axes, force), velocity) + sign * dot(apply(group.axes, moment), turn);
      expect(Math.abs(power - expected)).toBeLessThan(1e-9 * (1 + Math.abs(expected)));
    }
  });

  it('leaves nothing over of a wire in equilibrium', () => {
    const bent = design(
      [straight(6), preactivate([0, 0.2, 0.3]), straight(16)],
      [{ station: 0 }, { station: 20, moved: [0, 0.5, 0.3], lengthwise: 'sliding' }],
      section,
      alloy,
    );
    const engaged = engageOnce(bent);
    if ('reason' in engaged) throw new Error(engaged.reason);
    const { state } = engaged;
    const { force, moment } = imbalance(bent, state);
    const largest = Math.max(...state.wrenches.map(({ force: f }) => Math.hypot(...f)));
    // Newton's iteration ends where forces change by less than a millionth: ten of those for what is summed.
    expect(force).toBeLessThan(1e-5 * largest);
    expect(moment).toBeLessThan(1e-5 * largest * 20);
    const both: ToothGroup = { ...GROUP, attachments: [0, 1], resistance: [3, 9, -4], axes: identityMatrix };
    expect(Math.hypot(...loadOnGroup(bent, state, both).moment)).toBeLessThan(1e-5 * largest * 20);
  });

  it('of a group tied to the other side moves it in the plane of symmetry only', () => {
    const state = {
      wrenches: base.attachments.map((): Wrench => ({ force: [1, 2, 3], moment: [4, 5, 6] })),
      places: base.attachments.map(({ seatedWire }) => seatedWire.position),
    };
    const { force, moment } = wrenchAtResistance(base, state, { ...GROUP, attachments: [0], bothSides: true });
    expect([force[2], moment[0], moment[1]]).toEqual([0, 0, 0]);
    expect(scale(force, 1).slice(0, 2)).toEqual([1, 2]);
  });
});

describe('anchorage', () => {
  it('shares a closure inversely to root surfaces (handbook 6.5: 1312 against 1306 and 2168 mm²)', () => {
    const of = (rootArea: number): ToothGroup => ({ ...GROUP, rootArea });
    expect(closureShare(of(1306), of(1312))).toBeCloseTo(1312 / 2618, 9);
    expect(closureShare(of(2168), of(1312))).toBeCloseTo(0.377, 3);
    expect(closureShare({ ...GROUP }, of(1312))).toBeUndefined();
  });
});
