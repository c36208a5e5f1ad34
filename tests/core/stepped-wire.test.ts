/** Wire of several sections along its way, and doubled wire, against beam theory. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { Stock, WireElement } from '#core/design';
import { sectionProperties, stiffness } from '#core/material/section';
import { betaTitanium, design, rectangle, steel, straight } from './designs';

const thick = rectangle(0.019, 0.025);
const thin = rectangle(0.016, 0.022);
const options = { mesh: 'strict', compliance: 'bending-only', yielding: 'elastic' } as const;

const of = (length: number, stock?: Stock): WireElement => ({ ...straight(length), ...(stock && { stock }) });

/** A cantilever of two stretches, its point held a little to the side: force there, N, and largest elastic use. */
function cantilever(first: number, second: number, stock: Stock | undefined, d: number) {
  const { stages, failure } = analyseAppliance(
    design(
      [of(4), of(first), of(second, stock), of(2, stock)],
      [{ station: 4 }, { station: 4 + first + second, fitting: 'hook', moved: [0, d, 0] }],
      thick,
      steel,
    ),
    options,
  );
  expect(failure).toBeUndefined();
  const state = stages[0].state!;
  return { force: state.wrenches[1].force[1], state };
}

describe('a wire of two sections', () => {
  const d = 0.01;
  // Unit load: deflection per N = ∫ s²/EI ds, the thin part at the tip (textbook beam theory).
  const flexibility = (a: number, b: number, EI1: number, EI2: number) =>
    ((a + b) ** 3 - b ** 3) / (3 * EI1) + b ** 3 / (3 * EI2);
  const EI1 = stiffness(thick, steel).EIside;

  test.each([
    ['thinner', { section: thin, alloy: steel, count: 1 }],
    ['of another alloy', { section: thin, alloy: betaTitanium, count: 1 }],
    ['doubled', { section: thin, alloy: steel, count: 2 }],
  ] satisfies [string, Stock][])('bends as a stepped cantilever does: %s at the tip', (_, stock) => {
    const EI2 = stock.count * stiffness(stock.section, stock.alloy).EIside;
    const { force } = cantilever(8, 12, stock, d);
    // Slopes of d / L = 5e-4: their square is far below the tolerance; so is what is left of the shear, 1e-5.
    expect(-force * flexibility(8, 12, EI1, EI2)).toBeCloseTo(d, 6);
  });

  test('has its largest elastic use where a section is nearest to its own yield strength', () => {
    const stock = { section: thin, alloy: betaTitanium, count: 1 };
    const { force, state } = cantilever(2, 18, stock, 0.5);
    const use = (moment: number, { section, alloy }: { section: typeof thin; alloy: typeof steel }) =>
      moment / sectionProperties(section).modulusSide / alloy.yield;
    const root = use(Math.abs(force) * 20, { section: thick, alloy: steel });
    const step = use(Math.abs(force) * 18, stock);
    // The square of the slope, 0.5 / 20, is 6e-4.
    expect(Math.abs(state.elasticUse / Math.max(root, step) - 1)).toBeLessThan(2e-3);
    expect(step).toBeGreaterThan(root);
    expect(state.stressStation).toBeCloseTo(6, 6);
  });

  test('is the wire of one section where both are alike', () => {
    const same = cantilever(8, 12, { section: thick, alloy: steel, count: 1 }, 1);
    const plain = cantilever(8, 12, undefined, 1);
    expect(Math.abs(same.force / plain.force - 1)).toBeLessThan(1e-6);
  });
});
