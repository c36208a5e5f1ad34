/** Activations that move what supports the wire on its way, against beam formulas and against the same wire with its seats written there. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign, Load } from '#core/design';
import { sectionProperties, stiffness } from '#core/material/section';
import { addScaled, dot, norm, scale, subtract, type Vec3 } from '#core/math/vector';
import { design, type Holding, preactivate, radians, rectangle, steel, straight } from './designs';

const section = rectangle(0.016, 0.022);
const { height, width } = sectionProperties(section);
const { EIside: EI } = stiffness(section, steel);
const options = { mesh: 'strict', compliance: 'bending-only', yielding: 'elastic' } as const;
const gingival: Vec3 = [0, 1, 0];

/** Straight wire 24 mm long in two slots of no length 20 mm apart, over what stands in their middle. */
function over(middle: Omit<Holding, 'station'>, stages: readonly number[], moved = 0): ApplianceDesign {
  return design(
    [straight(24)],
    [{ station: 2 }, { station: 12, moved: [0, moved, 0], ...middle }, { station: 22, lengthwise: 'sliding' }],
    section,
    steel,
    { motion: { kind: 'move', attachment: 1, direction: gingival }, stages },
  );
}

describe('an activation that moves', () => {
  test('a hook between two slots bends the wire as a load in the middle of a fixed beam: F = 192 EI d / L³ (handbook 3.5)', () => {
    const expected = (192 * EI) / 20 ** 3;
    for (const moved of [0, 0.3]) {
      const d = 0.001;
      const {
        neutral,
        stages,
        stiffness: slopes,
      } = analyseAppliance(over({ fitting: 'hook' }, [0, d], moved), options);
      // Neutral is where the straight wire passes the hook.
      expect(neutral!.motion).toBeCloseTo(-moved, 6);
      // Small displacement: the square of the slope, (d / L)², is far below what the contacts give, 1e-6 N/N mm.
      expect(stages[1].state!.wrenches[1].force[1] / (-expected * d)).toBeCloseTo(1, 4);
      expect(slopes[0]! / expected).toBeCloseTo(1, 4);
    }
  });

  test('a slot with play changes nothing over the play, and bends the wire from the edge on', () => {
    const [play, w, L] = [0.05, 3, 20];
    const slot = { height: height + 2 * play, depth: 0.8 };
    const stages = [0.8 * play, play + 0.001];
    const analysis = analyseAppliance(over({ length: w, play: true, slot, lengthwise: 'sliding' }, stages), options);
    // Between the middle of the play and its end no force; the middle is what is counted from.
    expect(analysis.neutral!.motion).toBeCloseTo(0, 6);
    expect(Math.abs(analysis.stages[0].state!.wrenches[1].force[1])).toBeLessThan(1e-5);
    // Both edges lift it, at a and L - a, each with half of the force.
    const a = (L - w) / 2;
    const flexibility = fixedBeam(L, a, a) + fixedBeam(L, a, L - a);
    expect(analysis.stages[1].state!.wrenches[1].force[1] / ((-0.001 * 2) / flexibility)).toBeCloseTo(1, 3);
  });

  test.each([
    ['a hook that the wire slides along', { fitting: 'hook', lengthwise: 'sliding' }],
    ['a hook at its mark of the wire', { fitting: 'hook' }],
    ['a slot with play', { length: 3, play: true, slot: { height: height + 0.1, depth: 0.7 }, lengthwise: 'sliding' }],
    ['a slot that the wire slides through', { length: 3, lengthwise: 'sliding' }],
  ] as const)('%s leads where the same wire is engaged with it there', (_, holding) => {
    const wire = [straight(9), preactivate([0, 0, radians(12)]), straight(9), preactivate([0.1, 0.1, 0]), straight(17)];
    const at = (moved: Vec3, activation?: ApplianceDesign['activation']) =>
      design(
        wire,
        [
          { station: 2 },
          { station: 13, moved, ...holding },
          { station: 22, fitting: 'hook', lengthwise: 'sliding' },
          { station: 33, length: 3, play: true, slot: { height: height + 0.1, depth: 0.7 }, lengthwise: 'sliding' },
        ],
        section,
        steel,
        activation,
      );
    compareWithWritten(at, 1, [0.6, 0.8, 0]);
  });

  test.each([
    ['where the wire is held by slots with play only', 'sliding'],
    ['with a pull on the wire from what moves', 'pulled'],
  ] as const)('leads there too %s', (_, how) => {
    // Without play in depth there is one way only for the bend to lie.
    const slot = { height: height + 0.1, depth: width };
    const load: Load = {
      kind: 'elastic',
      from: { on: 'wire', station: 12 },
      to: { on: 'attachment', attachment: 1 },
      law: { kind: 'rate', rate: 0.2, rest: 0 },
    };
    const at = (moved: Vec3, activation?: ApplianceDesign['activation']) => ({
      ...design(
        [straight(14), preactivate([0, 0, radians(10)]), straight(20)],
        [
          how === 'sliding' ? { station: 3, length: 3, play: true, slot } : { station: 3, length: 3 },
          { station: 17, length: 3, play: true, slot, lengthwise: 'sliding', moved },
          { station: 30, length: 3, play: true, slot, lengthwise: 'sliding' },
        ],
        section,
        steel,
        activation,
      ),
      loads: how === 'pulled' ? [load] : [],
    });
    compareWithWritten(at, 1, gingival);
  });

  test('what clamps the wire, past supports that stay, leads there too', () => {
    const slot = { height: height + 0.1, depth: 0.7 };
    const at = (moved: Vec3, activation?: ApplianceDesign['activation']) =>
      design(
        [straight(7), preactivate([0, 0, radians(10)]), straight(25)],
        [
          { station: 3, length: 2, moved },
          { station: 14, fitting: 'hook', lengthwise: 'sliding' },
          { station: 28, length: 3, play: true, slot, lengthwise: 'sliding' },
        ],
        section,
        steel,
        activation,
      );
    compareWithWritten(at, 0, gingival);
  });
});

/**
 * Deflection per N at x of a beam built in at both ends by a load at a, times EI (Roark's table of beams, from memory; its
 * middle is that of L³/192EI above).
 */
function fixedBeam(L: number, a: number, x: number): number {
  const [p, q] = x <= a ? [a, x] : [L - a, L - x];
  const b = L - p;
  return ((b ** 2 * q ** 2) / (6 * EI * L ** 3)) * (3 * p * L - q * (3 * p + b));
}

/** Engaged at the place that the motion leads to, the wire is the same; there its force goes along the motion by the stated slope. */
function compareWithWritten(
  at: (moved: Vec3, activation?: ApplianceDesign['activation']) => ApplianceDesign,
  attachment: number,
  direction: Vec3,
): void {
  const step = 1e-3;
  const stages = [0, 0.3, 0.4 - step, 0.4, 0.4 + step];
  const moving = at([0, 0, 0], { motion: { kind: 'move', attachment, direction }, stages });
  const { neutral, stages: results, stiffness: slopes, failure } = analyseAppliance(moving, options);
  expect(failure).toBeUndefined();
  expect(Math.abs(along(neutral!, moving, attachment, direction))).toBeLessThan(1e-4);
  for (const { activation, state } of results.slice(0, 2)) {
    const written = at(scale(direction, neutral!.motion + activation));
    const { stages: engaged } = analyseAppliance(written, options);
    const expected = engaged[0].state!;
    for (const [k, { force, moment }] of state!.wrenches.entries()) {
      // Contacts are found to 1e-7 mm: 1e-6 N and N mm where one is as stiff as wires of this size are between slots.
      for (const c of [0, 1, 2]) {
        expect(Math.abs(force[c] - expected.wrenches[k].force[c])).toBeLessThan(1e-5 * (1 + size(expected)));
        expect(Math.abs(moment[c] - expected.wrenches[k].moment[c])).toBeLessThan(1e-5 * (1 + 10 * size(expected)));
      }
    }
  }
  const [before, , after] = results.slice(2).map(({ state }) => along(state!, moving, attachment, direction));
  // What is left is of the central difference's step.
  const slope = (after - before) / (2 * step);
  expect(Math.abs(slopes[3]! / slope - 1)).toBeLessThan(1e-4);
}

/** Force of a hand that moves the attachment against the wire alone. */
function along(
  { wrenches, loads }: EngagedState,
  { loads: given }: ApplianceDesign,
  k: number,
  direction: Vec3,
): number {
  const pulls = given.map((_, l): Vec3 => {
    const { force, places } = loads[l];
    const way = subtract(places[0], places[1]);
    return scale(way, force / norm(way));
  });
  return -dot(
    pulls.reduce((sum, pull) => addScaled(sum, pull, -1), wrenches[k].force),
    direction,
  );
}

function size({ wrenches }: EngagedState): number {
  return Math.max(...wrenches.map(({ force }) => norm(force)));
}
