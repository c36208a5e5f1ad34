/** Whether a wire stays as computed, where it snaps, and that its states do not depend on how they were reached. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { AnalysisOptions, EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign, Section, WireElement } from '#core/design';
import { stiffness } from '#core/material/section';
import { rotationMatrix } from '#core/math/rotation';
import { add, multiply, norm, subtract } from '#core/math/vector';
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

const bendingOnly: Partial<AnalysisOptions> = { compliance: 'bending-only', mesh: 'strict' };
/** Wide across the plane, so that the strip does not evade sideways. */
const strip: Section = { kind: 'rectangle', height: 0.2, width: 0.8, cornerRadius: 0 };

describe('snapping', () => {
  // A straight strip of length L, clamped at a small angle θ to its chord, the other end pinned closer by ε L and carried
  // across by y. Linear beam theory, lengths across in √ε L: w'''' + τ² w'' = 0, w(0) = w''(1) = 0, w'(0) = μ = θ/√ε, and
  // half the integral of w'² is 1. Along the branch y(τ) = w(1) turns back where the strip snaps through.
  const [L, epsilon, angle] = [20, 0.001, radians(0.2)];
  const mu = angle / Math.sqrt(epsilon);
  const across = Math.sqrt(epsilon) * L;
  const branch = (sense: 1 | -1) => {
    const places = Array.from({ length: 3000 }, (_, k) => placeAt(Math.PI / 2 + 0.01 + 0.0015 * k, mu, sense));
    return sense > 0 ? Math.min(...places) : Math.max(...places);
  };
  const pressed = (stages: readonly number[]) =>
    design(
      [straight(5), preactivate([0, 0, angle]), straight(L), straight(5)],
      [{ station: 5 }, { station: 5 + L, fitting: 'hook', tied: true, moved: [-epsilon * L, 0, 0] }],
      strip,
      steel,
      { motion: { kind: 'move', attachment: 1, direction: [0, 1, 0] }, stages },
    );

  test('a strip pressed together and carried across snaps through where beam theory turns back', () => {
    const { neutral } = analyseAppliance(pressed([0]), bendingOnly);
    const start = neutral!.motion;
    // On either branch (bowed up or down) there are two places without force across: at τ = π/2, far to the side to which
    // the strip bows, and near τ = 3π/2, on the other side.
    const bow = Math.abs(start) > 0.8 * across ? Math.sign(start) : -Math.sign(start);
    const fold = across * branch(bow as 1 | -1);
    const shares = [0.9, 0.97, 0.99, 1.01, 1.03, 1.1];
    const { stages } = analyseAppliance(pressed(shares.map((share) => share * fold - start)), bendingOnly);
    // What the linear theory leaves out is of the square of the slopes, which reach 0.1.
    expect(stages.map(({ state, failure }) => state?.stable ?? failure?.reason)).toEqual([
      ...[true, true, true],
      ...['snaps', 'snaps', 'snaps'],
    ]);
    for (const { failure } of stages.slice(3)) {
      const at = (failure as { motion: number }).motion + start;
      expect(Math.abs(at / fold - 1)).toBeLessThan(0.01);
    }
  });

  test('the branch of beam theory that it is held against: known loads of the strut', () => {
    // Without the angle: no force across at τ = π/2 (clamped-free strut), no displacement at tan τ = τ (clamped-pinned).
    expect(Math.abs(placeAt(4.493409, 0, 1))).toBeLessThan(1e-5);
    expect(placeAt(Math.PI / 2, 0, 1)).toBeCloseTo(4 / Math.PI, 5);
  });

  test('an arch that rests bowed snaps when it is carried across, from a neutral position that is stable', () => {
    const { neutral, stages } = analyseAppliance(arch([0, 3, 5, 6.5]));
    expect(neutral!.stable).toBe(true);
    expect(stages.map(({ failure }) => failure?.reason)).toEqual([undefined, undefined, undefined, 'snaps']);
  });

  test('where it snaps does not depend on the stages asked for', () => {
    const places = [[6.5], [0, 6.5], [3, 6.5], [5.5, 7], Array.from({ length: 66 }, (_, k) => 0.1 * k)].map(
      (stages) => {
        const last = analyseAppliance(arch(stages)).stages.at(-1)!;
        expect(last.failure?.reason).toBe('snaps');
        return (last.failure as { motion: number }).motion;
      },
    );
    // A change of shape is looked for to a sixty-fourth of a stage.
    for (const place of places) expect(Math.abs(place - places[4])).toBeLessThan(6.5 / 64);
  });
});

/** w(1) at a given τ, for the bow of that sense. */
function placeAt(tau: number, mu: number, sense: 1 | -1): number {
  // w = A (sin τx - τx) cos τ - A sin τ (cos τx - 1) + μ x meets the conditions at both ends for every A.
  const slope = (x: number) => tau * ((Math.cos(tau * x) - 1) * Math.cos(tau) + Math.sin(tau) * Math.sin(tau * x));
  const n = 400;
  let [first, second] = [0, 0];
  for (let k = 0; k <= n; k++) {
    const weight = (k === 0 || k === n ? 1 : k % 2 ? 4 : 2) / (3 * n);
    first += weight * slope(k / n);
    second += weight * slope(k / n) ** 2;
  }
  // ½ ∫ (A s + μ)² = 1
  const root = Math.sqrt((mu * first) ** 2 - second * (mu ** 2 - 2));
  const A = (-mu * first + sense * root) / second;
  return A * (Math.sin(tau) - tau * Math.cos(tau)) + mu;
}

/** Bowed by 5° either side over 20 mm, its far end hooked 0.3 mm closer. */
function arch(stages: readonly number[]): ApplianceDesign {
  const rise = radians(5);
  return design(
    [straight(6), bend(rise), bend(-2 * rise, 20 / (2 * rise)), straight(6)],
    [
      { station: 5, length: 2 },
      { station: 26, fitting: 'hook', tied: true, moved: [-0.3, 0, 0] },
    ],
    strip,
    steel,
    { motion: { kind: 'move', attachment: 1, direction: [0, 1, 0] }, stages },
  );
}

describe('neutral', () => {
  test('of a strip pressed together between two brackets is none at which they would stay', () => {
    const pressed = design(
      [straight(5), bend(radians(2)), bend(radians(-4), 20 / radians(4)), bend(radians(2)), straight(5)],
      [{ station: 5 }, { station: 25, moved: [-0.3, 0, 0] }],
      strip,
      steel,
      { motion: { kind: 'move', attachment: 1, direction: [0, 1, 0] }, stages: [0] },
    );
    const { neutral, stages, stiffness } = analyseAppliance(pressed);
    // Held there the strip stays bowed; let go it slides off to either side.
    expect(neutral!.stable).toBe(false);
    expect(stiffness[0]).toBeLessThan(0);
    expect(stages[0].state!.stable).toBe(true);
  });

  test('of a gabled loop is stable', () => {
    expect(analyseAppliance(gabled([0])).neutral!.stable).toBe(true);
  });
});

/** A loop with gables and a bend sideways. */
function gabled(stages: readonly number[]): ApplianceDesign {
  const elements = [
    straight(13),
    preactivate([0, radians(8), radians(10)]),
    ...verticalLoop(7, 1, 14, 6, radians(20)),
    straight(5),
  ];
  const total = elements.reduce((sum, e) => sum + e.length, 0);
  return design(
    elements,
    [
      { station: 7, length: 4, fitting: 'tube' },
      { station: total - 3, length: 3, moved: [0, 0.3, -0.2] },
    ],
    rectangle(0.017, 0.025),
    betaTitanium,
    { motion: { kind: 'pull', attachment: 0 }, stages },
  );
}

describe('a wire supported on its way', () => {
  // Two coil springs of length d push from both sides on the middle of a straight wire between two clamps: sideways each acts as a spring of
  // stiffness -P/d. The wire resists by 192 EI/L³ (handbook 3.5), of which up to its middle it has 24 EI/L³ by itself.
  const [L, d] = [20, 1];
  const section = rectangle(0.016, 0.022);
  const { EIup } = stiffness(section, steel);
  const far = { length: 1, play: true, slot: { height: 100, depth: 100 }, lengthwise: 'sliding' } as const;
  const pushed = (share: number): ApplianceDesign => ({
    ...design(
      [straight(L + 4)],
      [
        { station: 2 },
        { station: 2 + L / 2 - 3, ...far, moved: [3, d, 0] },
        { station: 2 + L / 2 + 3, ...far, moved: [-3, -d, 0] },
        { station: 2 + L },
      ],
      section,
      steel,
    ),
    loads: [1, 2].map((attachment) => ({
      kind: 'coil',
      from: { on: 'wire', station: 2 + L / 2 },
      to: { on: 'attachment', attachment },
      law: { kind: 'constant', force: (-share * d * 96 * EIup) / L ** 3 },
    })),
  });

  test.each([0.1, 0.2, 0.5, 0.97])(
    'stays straight where what would not stay by itself is kept by the wire ahead: %d of its limit',
    (share) => {
      const { failure, stages } = analyseAppliance(pushed(share), { ...bendingOnly, yielding: 'elastic' });
      expect(failure).toBeUndefined();
      const { stable, loads } = stages[0].state!;
      expect(stable).toBe(true);
      expect(norm(subtract(loads[0].places[0], [2 + L / 2, 0, 0]))).toBeLessThan(1e-6);
    },
  );

  test('does not stay straight beyond its limit', () => {
    const { stages } = analyseAppliance(pushed(1.03), { ...bendingOnly, yielding: 'elastic' });
    const state = stages[0]?.state;
    expect(!state?.stable || norm(subtract(state.loads[0].places[0], [2 + L / 2, 0, 0])) > 1e-3).toBe(true);
  });
});

describe('history', () => {
  test.each([
    ['in one step', [2]],
    ['down from above', [3, 2]],
    ['from the other side', [-1, 2]],
    ['there and back', [2, 0, 2]],
    ['in many steps', [0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2]],
  ])('an elastic wire at 2 mm is the same, reached %s', (_way, stages) => {
    const state = (list: readonly number[]): EngagedState => {
      const { stages: solved } = analyseAppliance(gabled(list), { mesh: 'strict', yielding: 'elastic' });
      return solved[solved.length - 1].state!;
    };
    const [expected, found] = [state([0, 1, 2]), state(stages)];
    expect(Math.abs(found.motion - expected.motion)).toBeLessThan(1e-8);
    for (const [k, { force, moment }] of found.wrenches.entries()) {
      // Convergence of the strict setting: 1e-9 rad and mm of the last step, at some 10 N/mm and 100 N mm/mm.
      expect(norm(subtract(force, expected.wrenches[k].force))).toBeLessThan(1e-7);
      expect(norm(subtract(moment, expected.wrenches[k].moment))).toBeLessThan(1e-6);
    }
  });
});

describe('energy', () => {
  test('drawing wire through a tube is consistent with moving the bracket: mixed derivatives of one energy agree', () => {
    // Stored energy U(s, y), s drawn through the tube, y the bracket's height. dU = H ds + Fy dy with
    // H = n·t + m·m/(2 EI) at the tube's edge, where the wire passes from bent to straight (force of a sliding sleeve, Bigoni
    // et al., Mech Mater 2015;80:368-374, from memory). Hence ∂H/∂y = ∂Fy/∂s.
    const section = rectangle(0.017, 0.025);
    const EI = 60;
    const half = 2;
    const [s, y, e] = [-0.5, 0.2, 1e-3];
    const at = (drawn: number, height: number) => {
      const elements = [straight(13), ...verticalLoop(7, 1, 14, 6, radians(20)), straight(5)];
      const total = elements.reduce((sum, one) => sum + one.length, 0);
      const held = (stages: readonly number[]) =>
        design(
          elements,
          [
            { station: 7, length: 2 * half, fitting: 'tube' },
            { station: total - 3, moved: [0, height, 0] },
          ],
          section,
          withStiffness(EI, section),
          { motion: { kind: 'pull', attachment: 0 }, stages },
        );
      const neutral = analyseAppliance(held([0]), bendingOnly).neutral!.motion;
      const { state } = analyseAppliance(held([drawn - neutral]), bendingOnly).stages[0];
      const [molar, canine] = state!.wrenches;
      const atEdge = molar.moment[2] - half * molar.force[1];
      return { H: molar.force[0] + atEdge ** 2 / (2 * EI), Fy: -canine.force[1] };
    };
    const byHeight = (at(s, y + e).H - at(s, y - e).H) / (2 * e);
    const byDrawing = (at(s + e, y).Fy - at(s - e, y).Fy) / (2 * e);
    expect(Math.abs(byHeight)).toBeGreaterThan(0.01);
    // Discretisation of the strict setting: 2e-4 of the largest stiffness, which is up to ten times this mixed one.
    expect(Math.abs(byHeight / byDrawing - 1)).toBeLessThan(2e-3);
  });

  test('in the linear range the stiffness of an end is symmetric in all six movements', () => {
    // In space: a bend sideways in the shape.
    const bent: readonly WireElement[] = [
      straight(6),
      ...verticalLoop(7, 1, 12, 5),
      { length: 1, shape: [0, 0.4, 0.2], preactivation: [0, 0, 0] },
      straight(5),
    ];
    const total = bent.reduce((sum, one) => sum + one.length, 0);
    const nominal = design(bent, [{ station: 4 }, { station: total - 2 }], rectangle(0.017, 0.025), betaTitanium);
    const { position, axes } = nominal.attachments[1].seatedWire;
    const wrenchAt = ([x, y, z, ...turn]: readonly number[]): readonly number[] => {
      const [first, second] = nominal.attachments;
      const pose = {
        position: add(position, [x, y, z]),
        axes: multiply(rotationMatrix([turn[0], turn[1], turn[2]]), axes),
      };
      const moved = { ...nominal, attachments: [first, { ...second, seatedWire: pose }] };
      const { force, moment } = analyseAppliance(moved, { mesh: 'strict' }).stages[0].state!.wrenches[1];
      return [...force, ...moment];
    };
    const steps = [1e-3, 1e-3, 1e-3, 1e-4, 1e-4, 1e-4];
    const K = steps.map((step, i) => {
      const [plus, minus] = [1, -1].map((sign) => wrenchAt(steps.map((_, k) => (k === i ? sign * step : 0))));
      return plus.map((value, k) => (value - minus[k]) / (2 * step));
    });
    for (let i = 0; i < 6; i++) {
      for (let k = 0; k < i; k++) {
        // Accuracy of the strict setting, 2e-4 of the largest of its kind.
        expect(Math.abs(K[i][k] - K[k][i])).toBeLessThan(2e-4 * Math.sqrt(K[i][i] * K[k][k]));
      }
    }
  });
});
