/** Bands against sampled wires, and the wires themselves against what a bend or a straight is. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { type Figures, figuresAt, listed } from '#core/analysis/figures';
import { type Scatter, varied } from '#core/analysis/scatter';
import { type ScatteredWire, uncertaintyOf } from '#core/analysis/uncertainty';
import type { Activation, ApplianceDesign, Stock, WireElement } from '#core/design';
import { sectionProperties } from '#core/material/section';
import { normalNumbers, uniformNumbers } from '#core/math/random';
import {
  bend,
  betaTitanium,
  design,
  preactivate,
  radians,
  rectangle,
  steel,
  straight,
  verticalLoop,
  withStiffness,
} from './designs';

/** Every straight and bend between the seats by hand, ±0.25 mm and ±2° (common practice, no source). */
function handBent({ elements }: ApplianceDesign): Scatter[] {
  return elements.slice(1, -1).flatMap(({ length, shape, preactivation }, k): Scatter[] => {
    const turn = Math.hypot(...shape, ...preactivation);
    if (turn > 0) {
      return [{ kind: 'bend', elements: [k + 1, k + 2], amount: turn, low: -radians(2), high: radians(2) }];
    }
    return [{ kind: 'straight', elements: [k + 1, k + 2], amount: length, low: -0.25, high: 0.25 }];
  });
}

/** A beta-titanium wire: modulus 62 to 69 GPa about 66 (from memory, BG80, AB86, BE01), sizes to the nearest 0.01 mm. */
const wireScatter: readonly Scatter[] = [
  { kind: 'modulus', low: -4000, high: 3000 },
  { kind: 'yield', low: -210, high: 70 },
  { kind: 'height', low: -0.005, high: 0.005 },
  { kind: 'width', low: -0.005, high: 0.005 },
];
const alloy = { ...betaTitanium, modulus: 66_000, yield: 900 };

/** Written as one bends it: a straight ends where a seat is marked. */
const gabledElements = [straight(9), ...verticalLoop(7, 1, 14, 7, radians(15)), straight(3)];
const gabled: ApplianceDesign = design(
  gabledElements,
  [
    { station: 9, fitting: 'tube', length: 4 },
    { station: gabledElements.reduce((sum, e) => sum + e.length, -3), length: 3 },
  ],
  rectangle(0.017, 0.025),
  alloy,
  { motion: { kind: 'pull', attachment: 0 }, stages: [0, 1.5] },
);

/** In space: an off-centre bend sideways and a twist, held at a lifted bracket. */
const spatial: ApplianceDesign = (() => {
  const elements = [
    straight(4),
    straight(8),
    preactivate([0, 0, radians(18)]),
    preactivate([0, radians(10), 0]),
    straight(5),
    { length: 2, shape: [0, 0, 0], preactivation: [radians(12), 0, 0] } satisfies WireElement,
    bend(radians(30), 1.2),
    straight(4),
    bend(radians(-30), 1.2),
    straight(6),
    straight(3),
  ];
  const total = elements.reduce((sum, e) => sum + e.length, 0);
  return design(
    elements,
    [
      { station: 4, fitting: 'tube', length: 4 },
      { station: total - 3, length: 3, moved: [0, 0.3, -0.2] },
    ],
    rectangle(0.016, 0.022),
    alloy,
    { motion: { kind: 'pull', attachment: 0 }, stages: [0, 0.5] },
  );
})();

/** The loop's legs and top of thinner wire of another alloy. */
const thin: Stock = {
  section: rectangle(0.016, 0.022),
  alloy: { ...steel, name: 'thin', yield: 1600 },
  count: 1,
};
const stepped: ApplianceDesign = {
  ...gabled,
  elements: gabled.elements.map((one, k, all) => (k > 3 && k < all.length - 3 ? { ...one, stock: thin } : one)),
};
const thinScatter: readonly Scatter[] = [
  { kind: 'modulus', alloy: 'thin', low: -10_000, high: 15_000 },
  { kind: 'height', section: thin.section, low: -0.005, high: 0.005 },
  { kind: 'width', section: thin.section, low: -0.005, high: 0.005 },
];

/** A cantilever from the same tube to a hook 20 mm in front of it and a little higher, and what of it scatters. */
const cantilever: ScatteredWire = (() => {
  const bent = design(
    [straight(9), straight(12), preactivate([0, 0, radians(10)]), straight(8), straight(2)],
    [
      { station: 9, fitting: 'tube', length: 4 },
      { station: 29, fitting: 'hook', moved: [0, 0.4, 0.3] },
    ],
    rectangle(0.016, 0.016),
    steel,
  );
  const attachments = bent.attachments.map((one, k) => (k === 1 ? { ...one, name: 'front' } : one));
  const scatter: readonly Scatter[] = [
    { kind: 'modulus', low: -10_000, high: 15_000 },
    { kind: 'height', low: -0.005, high: 0.005 },
    { kind: 'width', low: -0.005, high: 0.005 },
  ];
  return { name: 'cantilever', design: { ...bent, attachments }, scatter: [...scatter, ...handBent(bent)] };
})();

describe('against sampling', () => {
  test.each<readonly [string, ApplianceDesign, number, number, readonly Scatter[], readonly ScatteredWire[]]>([
    ['a gabled vertical loop', gabled, 1.5, 20_260_101, [], []],
    ['bends in all three orders', spatial, 0.5, 20_260_102, [], []],
    ['a loop of thinner wire', stepped, 1, 20_260_103, thinScatter, []],
    ['a loop and a cantilever in the same tube', gabled, 1.5, 20_260_104, [], [cantilever]],
  ])('%s: 2,000 wires', { timeout: 60_000 }, (name, given, activation, seed, more, further) => {
    const scatter = [...wireScatter, ...more, ...handBent(given)];
    const found = uncertaintyOf(given, scatter, activation, {}, further)!;
    expect(found.wires.unsolved).toBe(0);
    const samples = sample(given, scatter, activation, seed, 2000, further);
    const bands = listed(found.bands);
    const reported: string[] = [];
    for (const [i, band] of bands.entries()) {
      const column = samples.map((row) => row[i]).sort((a, b) => a - b);
      const half = (band.high - band.low) / 2;
      if (half === 0) {
        // Side forces of a wire that stays in its plane.
        expect(Math.max(...column.map(Math.abs))).toBeLessThan(1e-5);
        continue;
      }
      // The part p of the samples below an end of the band has the standard error sqrt(p (1 - p) / n), whatever their
      // distribution. Four of them, as there are some sixty ends to look at; those of the 300 samples of a sampled band on top.
      const p = 0.02275;
      const parts = 1 / 2000 + (band.method === 'sampled' ? 1 / 300 : 0);
      const error = 4 * Math.sqrt(p * (1 - p) * parts);
      // At worst what the single effects leave out goes with the square of one normal number z, (z² - 1)/√2 times its root
      // mean square: 3/√2 times at the ends z = ±2.
      const slack = band.method === 'sampled' ? 0 : (3 / Math.SQRT2) * band.nonLinearity * half;
      const between = (value: number, from: number, to: number) => {
        expect(value).toBeGreaterThan(at(column, from) - slack);
        expect(value).toBeLessThan(at(column, to) + slack);
      };
      between(band.low, p - error, p + error);
      between(band.high, 1 - p - error, 1 - p + error);
      const off = [at(column, p) - band.low, at(column, 1 - p) - band.high].map((gap) => (gap / half).toFixed(3));
      reported.push(`${band.method}: ${off.join(', ')}; non-linearity ${band.nonLinearity.toFixed(3)}`);
    }
    console.info(
      `${name}, seed ${seed}: ends of the sampled bands off by, in halves of the band\n${reported.join('\n')}`,
    );
    expect(reported.length).toBeGreaterThan(8);
    expect(bands.some(({ method }) => method === 'single-effects')).toBe(true);
  });
});

/** Quantile of a sorted column. */
function at(column: readonly number[], part: number): number {
  return column[Math.round(Math.min(Math.max(part, 0), 1) * (column.length - 1))];
}

function sample(
  given: ApplianceDesign,
  scatter: readonly Scatter[],
  activation: number,
  seed: number,
  count: number,
  further: readonly ScatteredWire[],
): number[][] {
  const normal = normalNumbers(seed);
  const bent = (one: ApplianceDesign, by: readonly Scatter[]) => {
    const deviations = by.map(({ low, high }) => (low + high) / 2 + (normal() * (high - low)) / 4);
    return varied(one, by, deviations);
  };
  return Array.from({ length: count }, () => {
    const own = figuresOf(bent(given, scatter), activation)!;
    return listed(further.reduce((sum, wire) => inSameTube(sum, bent(wire.design, wire.scatter)), own));
  });
}

/** The other wire's first attachment stands where the first of this one does, turned the same way: its wrench adds up. */
function inSameTube(own: Figures<number>, other: ApplianceDesign): Figures<number> {
  const share = analyseAppliance(other).stages[0].state!.wrenches[0];
  const added = (part: 'force' | 'moment') => own.wrenches[0][part].map((x, k) => x + share[part][k]);
  const first = { force: added('force'), moment: added('moment') } as unknown as Figures<number>['wrenches'][0];
  return { ...own, wrenches: [first, ...own.wrenches.slice(1)] };
}

function figuresOf(given: ApplianceDesign, activation: number): Figures<number> | undefined {
  const one = { ...given, activation: { ...given.activation!, stages: [activation] } };
  return figuresAt(analyseAppliance(one), one, activation);
}

describe('single-effects', () => {
  // A straight wire between brackets, the far one lifted by d, drawn until nothing pulls: F = 12 EI d / L³ (beam theory).
  const [L, EI, lift] = [20, 800, 0.02];
  const section = rectangle(0.016, 0.022);
  const atNeutral: Activation = { motion: { kind: 'pull', attachment: 0 }, stages: [0] };
  const lifted = design(
    [straight(5), straight(L), straight(5)],
    [{ station: 5 }, { station: 5 + L, moved: [0, lift, 0] }],
    section,
    withStiffness(EI, section),
    atNeutral,
  );
  const bands = (scatter: Scatter) =>
    uncertaintyOf(lifted, [scatter], 0, { compliance: 'bending-only', mesh: 'strict' })!.bands.wrenches[1].force[1];

  test('a modulus 10 % either way moves the force by 10 %', () => {
    const modulus = lifted.alloy.modulus;
    const { low, high, effects, method } = bands({ kind: 'modulus', low: -0.1 * modulus, high: 0.1 * modulus });
    const force = (12 * EI * lift) / L ** 3;
    expect(method).toBe('single-effects');
    expect(Math.abs(low / (-1.1 * force) - 1)).toBeLessThan(1e-4);
    expect(Math.abs(high / (-0.9 * force) - 1)).toBeLessThan(1e-4);
    expect(effects[0].share).toBeCloseTo(1, 12);
    expect(Math.abs(effects[0].change / (-0.1 * force) - 1)).toBeLessThan(1e-4);
  });

  test('height counts by its cube, width by its first power (second-order bending)', () => {
    const { height, width } = section as { height: number; width: number };
    const force = (12 * EI * lift) / L ** 3;
    const byHeight = bands({ kind: 'height', low: -0.01 * height, high: 0.01 * height }).effects[0].change;
    const byWidth = bands({ kind: 'width', low: -0.01 * width, high: 0.01 * width }).effects[0].change;
    // (1.01³ - 0.99³) / 2 = 0.030001
    expect(Math.abs(byHeight / (-0.030001 * force) - 1)).toBeLessThan(1e-3);
    expect(Math.abs(byWidth / (-0.01 * force) - 1)).toBeLessThan(1e-3);
  });

  test('a V bend in the middle: couples in proportion to its angle', () => {
    // Centred V bend between brackets: equal and opposite couples EI θ / L, no force (beam theory).
    const angle = radians(3);
    const bent = design(
      [straight(5), straight(L / 2), preactivate([0, 0, angle]), straight(L / 2), straight(5)],
      [{ station: 5 }, { station: 5 + L }],
      section,
      withStiffness(EI, section),
      atNeutral,
    );
    const scatter: Scatter = { kind: 'bend', elements: [2, 3], amount: angle, low: -radians(1), high: radians(1) };
    const { effects } = uncertaintyOf(bent, [scatter], 0, { compliance: 'bending-only', mesh: 'strict' })!.bands
      .wrenches[1].moment[2];
    // What the formula leaves out is of the square of the angle, 0.003.
    expect(Math.abs(Math.abs(effects[0].change) / ((EI * radians(1)) / L) - 1)).toBeLessThan(0.003);
  });

  test('the height of a stretch stiffens that stretch by its cube, and that of the rest of the wire does nothing to it', () => {
    const stock: Stock = { section, alloy: lifted.alloy, count: 1 };
    const other: ApplianceDesign = {
      ...lifted,
      section: rectangle(0.018, 0.022),
      elements: lifted.elements.map((one, k) => (k === 1 ? { ...one, stock } : one)),
    };
    const { height } = sectionProperties(section);
    const scatter: readonly Scatter[] = [
      { kind: 'height', section, low: -0.005, high: 0.005 },
      { kind: 'height', low: -0.005, high: 0.005 },
    ];
    const bent = { compliance: 'bending-only', mesh: 'strict' } as const;
    const { effects } = uncertaintyOf(other, scatter, 0, bent)!.bands.wrenches[1].force[1];
    // F = 12 EI d / L³ with I of h³: (h + t)³ - (h - t)³ over 2 h³, as a part of the force.
    const part = ((height + 0.005) ** 3 - (height - 0.005) ** 3) / (2 * height ** 3);
    expect(Math.abs(Math.abs(effects[0].change) / (part * ((12 * EI * lift) / L ** 3)) - 1)).toBeLessThan(1e-4);
    expect(effects[1].change).toBeCloseTo(0, 9);
  });

  test('shares add up to one, and the band is the root of the sum of squares', () => {
    const scatter = [...wireScatter, ...handBent(gabled)];
    const { bands } = uncertaintyOf(gabled, scatter, 1.5)!;
    for (const { low, high, method, effects } of listed(bands)) {
      if (high === low) continue;
      expect(effects.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
      if (method === 'sampled') continue;
      const half = (high - low) / 2;
      const byChange = Math.sqrt(effects.reduce((sum, { change }) => sum + change ** 2, 0));
      // The curvature of a single effect comes on top; more than half as much would not be near linear.
      expect(byChange).toBeLessThan(half * (1 + 1e-9));
      expect(byChange).toBeGreaterThan(half / Math.sqrt(2));
    }
  });

  test('a wire that is already at the end of its range spreads to one side only', () => {
    const modulus = lifted.alloy.modulus;
    const { low, high } = bands({ kind: 'modulus', low: -0.1 * modulus, high: 0 });
    const force = (12 * EI * lift) / L ** 3;
    expect(Math.abs(low / -force - 1)).toBeLessThan(1e-4);
    expect(Math.abs(high / (-0.9 * force) - 1)).toBeLessThan(1e-4);
  });

  test('no such state, no bands', () => {
    const torn = {
      ...lifted,
      attachments: lifted.attachments.map((a, k) =>
        k ? { ...a, seatedWire: { ...a.seatedWire, position: [2 * L, 0, 0] as const } } : a,
      ),
    };
    expect(uncertaintyOf(torn, wireScatter, 0)).toBeUndefined();
  });
});

describe('varied wires', () => {
  test('a longer straight carries everything after it along, marks included', () => {
    const scatter: Scatter = {
      kind: 'straight',
      elements: [1, 2],
      amount: gabled.elements[1].length,
      low: -1,
      high: 1,
    };
    const longer = varied(gabled, [scatter], [0.25]);
    expect(longer.elements[1].length).toBeCloseTo(gabled.elements[1].length + 0.25, 12);
    expect(longer.attachments[0].station).toBeCloseTo(gabled.attachments[0].station, 12);
    expect(longer.attachments[1].station).toBeCloseTo(gabled.attachments[1].station + 0.25, 12);
    expect(longer.attachments[1].seatedWire).toEqual(gabled.attachments[1].seatedWire);
  });

  test('a bend by another angle keeps its radius, a twist its length; a straight is never shorter than nothing', () => {
    const bent = design(
      [straight(5), bend(1, 2), straight(1)],
      [{ station: 0 }, { station: 8 }],
      rectangle(0.016, 0.022),
      steel,
    );
    const more = varied(bent, [{ kind: 'bend', elements: [1, 2], amount: 1, low: 0, high: 0 }], [0.1]).elements[1];
    expect(more.shape[2] / more.length).toBeCloseTo(1 / 2, 12);
    expect(more.shape[2]).toBeCloseTo(1.1, 12);
    const twisted = varied(bent, [{ kind: 'twist', elements: [1, 2], amount: 1, low: 0, high: 0 }], [0.1]).elements[1];
    expect(twisted.length).toBe(bent.elements[1].length);
    const none = varied(bent, [{ kind: 'straight', elements: [2, 3], amount: 1, low: 0, high: 0 }], [-2]).elements[2];
    expect(none.length).toBe(0);
  });
});

describe('random numbers', () => {
  test('are the same at every run, with the mean and spread that they should have', () => {
    const n = 20_000;
    const draw = (next: () => number) => Array.from({ length: n }, next);
    expect(draw(normalNumbers(7))).toEqual(draw(normalNumbers(7)));
    const mean = (numbers: number[]) => numbers.reduce((sum, x) => sum + x, 0) / n;
    const uniform = draw(uniformNumbers(7));
    const normal = draw(normalNumbers(7));
    // Four standard errors.
    expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan((4 * Math.sqrt(1 / 12)) / Math.sqrt(n));
    expect(Math.abs(mean(normal))).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(mean(normal.map((x) => x * x)) - 1)).toBeLessThan((4 * Math.SQRT2) / Math.sqrt(n));
    expect(normal.filter((x) => x < -2).length / n).toBeCloseTo(0.02275, 2);
  });
});
