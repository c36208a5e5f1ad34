/** Wire past yield that slides through its attachments, is cinched behind them or rubs in them. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState } from '#core/analysis/analysis';
import type { Activation, ApplianceDesign } from '#core/design';
import { stiffness } from '#core/material/section';
import { normalForces } from '#core/material/slot-friction';
import { LEAST_SLOPE, type UniaxialLaw } from '#core/material/uniaxial-law';
import {
  advanceInelastically,
  engageAtInelasticNeutral,
  engageInelastically,
  type InelasticPath,
  release,
} from '#core/mechanics/inelastic/inelastic-path';
import { randomArchwire } from '../random/random-archwires';
import { randomNumbers } from '../random/random-designs';
import { imbalance } from '../validation/balance';
import { betaTitanium, design, type Holding, preactivate, radians, rectangle, roundLoop, straight } from './designs';
import { inelasticWire } from './inelastic-wire';

const section = rectangle(0.016, 0.022);
const [height, width] = [0.016 * 25.4, 0.022 * 25.4];
const neverYields: UniaxialLaw = { kind: 'elastic-plastic', yield: 1e9, hardening: 0 };
const perfect: UniaxialLaw = { kind: 'elastic-plastic', yield: betaTitanium.yield, hardening: 0 };
const yielding = (law: UniaxialLaw, yieldStrength = betaTitanium.yield) => ({
  ...betaTitanium,
  yield: yieldStrength,
  law,
});
const elastic = { mesh: 'strict', yielding: 'elastic' } as const;
const { EIside: EI } = stiffness(section, betaTitanium);

/** Two bends, held at 3, passing 12 and 21. */
const passing = (holdings: readonly [Partial<Holding>, Partial<Holding>, Partial<Holding>], turns = [30, 12]) =>
  design(
    [
      straight(5),
      preactivate([0, 0, radians(turns[0])]),
      straight(11),
      preactivate([0, 0, radians(turns[1])]),
      straight(8),
    ],
    [
      { station: 3, ...holdings[0] },
      { station: 12, ...holdings[1] },
      { station: 21, ...holdings[2] },
    ],
    section,
    betaTitanium,
  );

/** Largest differences of wrenches and slid lengths from those of a state, as shares of the largest (and in mm). */
function apart(path: InelasticPath, wire: ApplianceDesign, state: EngagedState) {
  const expected = path.spans.map(({ held }) => held);
  const at = path.controls.attachments.map((attachment, k) => path.controls.amounts[k + 1] - state.slid[attachment]);
  // What the first attachment that holds a span's start is given is that span's u there.
  const [first] = expected;
  const { force, moment: atSeat } = state.wrenches[0];
  // From the seat to the slot's edge.
  const half = wire.attachments[0].length / 2;
  const moment = [atSeat[0], atSeat[1] + half * force[2], atSeat[2] - half * force[1]];
  const F = Math.max(...state.wrenches.map((wrench) => Math.hypot(...wrench.force)));
  const M = Math.max(...state.wrenches.map((wrench) => Math.hypot(...wrench.moment)));
  expect(wire.attachments[0].lengthwise).toBe('held');
  return {
    slid: Math.max(0, ...at.map(Math.abs)),
    force: Math.max(...[0, 1, 2].map((c) => Math.abs(first.span.u[3 + c] - force[c]))) / F,
    moment: Math.max(...[0, 1, 2].map((c) => Math.abs(first.span.u[c] - moment[c]))) / M,
  };
}

describe('a wire that slides and stays elastic', () => {
  const sliding = { lengthwise: 'sliding' } as const;
  it.each<[string, ApplianceDesign]>([
    ['through its last attachment', passing([{}, {}, sliding])],
    ['through an inner one', passing([{}, sliding, {}])],
    ['through both', passing([{}, sliding, sliding])],
    ['through slots of some length', passing([{ length: 2 }, { length: 2, ...sliding }, { length: 2, ...sliding }])],
    ['cinched, and drawn in no further', passing([{}, sliding, { lengthwise: 'cinched' }])],
    [
      'cinched, and pulled in by a bracket out of line',
      passing([{}, { ...sliding, moved: [0, 2, 0] }, { lengthwise: 'cinched' }]),
    ],
    ['in space', passing([{}, { ...sliding, moved: [0, 0.3, 0.5] }, sliding])],
  ])('%s stands where the elastic kernel has it', (_, wire) => {
    const { neutral, failure } = analyseAppliance(wire, elastic);
    expect(failure).toBeUndefined();
    const path = inelasticWire(wire, neverYields);
    expect(engageInelastically(path).ok).toBe(true);
    // As for a held wire (inelastic-kernel.test.ts).
    const { slid, force, moment } = apart(path, wire, neutral!);
    expect(slid).toBeLessThan(1e-3);
    expect(force).toBeLessThan(1e-3);
    expect(moment).toBeLessThan(1e-3);
  });

  it('is let draw itself through by a pull at its other end', () => {
    const activation: Activation = { motion: { kind: 'pull', attachment: 2 }, stages: [0] };
    const wire = { ...passing([{}, sliding, {}]), activation };
    const { neutral, stages } = analyseAppliance(wire, { ...elastic, extraActivations: [0.3] });
    const path = inelasticWire(wire, neverYields);
    expect(engageAtInelasticNeutral(path).ok).toBe(true);
    expect(path.motion).toBeCloseTo(neutral!.motion, 3);
    expect(advanceInelastically(path, neutral!.motion + 0.3).ok).toBe(true);
    // A planar cycle's 0.5 % (solver notes, section 5): the slots cut steps.
    expect(apart(path, wire, stages[1].state!).moment).toBeLessThan(0.005);
    expect(apart(path, wire, stages[1].state!).slid).toBeLessThan(1e-3);
  });

  it('passes ten brackets in space as the elastic kernel says', () => {
    const random = randomNumbers(20_241);
    for (let k = 0; k < 3; k++) {
      const wire = randomArchwire(random, { movement: 0.5, turn: 5, width: k === 0 ? 0 : 3 });
      const { neutral } = analyseAppliance(wire, elastic);
      const path = inelasticWire(wire, neverYields);
      expect(engageInelastically(path).ok).toBe(true);
      for (const [c, attachment] of path.controls.attachments.entries()) {
        expect(Math.abs(path.controls.amounts[c + 1] - neutral!.slid[attachment])).toBeLessThan(1e-3);
      }
    }
  });
});

describe('plastic hinges of a wire whose attachments step aside', () => {
  // Soft enough that it yields at a deflection of some µm: beam theory of small deflections.
  const soft = yielding({ kind: 'elastic-plastic', yield: 0.9, hardening: 0 }, 0.9);
  const L = 10;
  const plastic = (soft.yield * width * height ** 2) / 4;
  const load = (lengthwise: Holding['lengthwise'], fitting: Holding['fitting'], times: number) => {
    const wire = design([straight(L)], [{ station: 0 }, { station: L, lengthwise, fitting }], section, soft, {
      motion: { kind: 'move', attachment: 1, direction: [0, 1, 0] },
      stages: [0],
    });
    const path = inelasticWire(wire, soft.law, {
      mesh: { turn: 1, length: STEP, elastic: 1 },
      compliance: 'bending-only',
      layers: 32,
    });
    expect(engageInelastically(path).ok).toBe(true);
    const aside = (times * plastic * L ** 2) / (6 * EI);
    for (let k = 1; k <= 6; k++) expect(advanceInelastically(path, (k / 6) * aside).ok).toBe(true);
    return { force: Math.abs(path.spans[0].span.u[4]), aside };
  };
  const STEP = 0.25;

  it.each([
    // Both ends clamped, one of them free to slide: hinges at both, F L = 2 M. On a hook: one hinge, F L = M. Limit analysis of a
    // beam in sway (any text on plastic design; M = σ_y b h²/4).
    ['at both clamped ends of a wire that slides', 'sliding', 'bracket', 2],
    ['at the clamped end of a wire on a hook', 'held', 'hook', 1],
  ] as const)('form %s', (_, lengthwise, fitting, hinges) => {
    const { force, aside } = load(lengthwise, fitting, 6);
    // As in stepped-yielding.test.ts: the hinge's nearest Gauss point, and the stiffness that is left to it.
    const off = (0.5 - Math.sqrt(3) / 6) * STEP;
    const more = (off * (hinges === 2 ? 2 : 1)) / L + (LEAST_SLOPE * EI * (aside / L / (STEP / 2))) / plastic;
    const ratio = (force * L) / (hinges * plastic);
    expect(ratio).toBeGreaterThan(1 - 1e-3);
    expect(ratio).toBeLessThan(1 + more);
    expect(more).toBeLessThan(0.025);
  });
});

describe('a wire that slides and yields', () => {
  const sliding = { lengthwise: 'sliding' } as const;
  const alloy = yielding(perfect);
  const wireOf = (holdings: Parameters<typeof passing>[0], turns: number[]) => ({
    ...passing(holdings, turns),
    alloy,
  });

  it('is balanced, and bears the configurational force and no more at its free end', () => {
    const wire = wireOf([{}, sliding, sliding], [60, 40]);
    const { neutral, unfollowed, yielding: beyond } = analyseAppliance(wire);
    expect(unfollowed).toBeUndefined();
    expect(beyond).toBeDefined();
    expect(neutral!.fibreStress!).toBeGreaterThan(0.99 * alloy.yield);
    const { force, moment } = imbalance(wire, neutral!);
    // A step of 1e-2 of the forces, squared, and 2e-3 of the yield moment, 17 N mm, is what the default leaves.
    expect(force).toBeLessThan(5e-3);
    expect(moment).toBeLessThan(5e-2);
    const { force: along, moment: end } = neutral!.wrenches[2];
    expect(along[0] / (end[2] ** 2 / (2 * EI))).toBeCloseTo(1, 2);
  });

  it('stands as the wire that is held where it has slid to', () => {
    const free = analyseAppliance(wireOf([{}, sliding, sliding], [60, 40])).neutral!;
    const [, inner, outer] = free.slid;
    expect(Math.abs(inner)).toBeGreaterThan(0.01);
    const held = analyseAppliance(
      wireOf(
        [{}, { station: 12 - inner, moved: [inner, 0, 0] }, { station: 21 - outer, moved: [outer, 0, 0] }],
        [60, 40],
      ),
    ).neutral!;
    // Both are bent one way only, in which the way does not matter (solver notes 3.5: to 1e-4); 0.5 % is a planar cycle's.
    const M = Math.max(...free.wrenches.map(({ moment }) => Math.abs(moment[2])));
    for (const k of [0, 1, 2]) {
      expect(Math.abs(held.wrenches[k].moment[2] - free.wrenches[k].moment[2])).toBeLessThan(0.005 * M);
    }
  });

  it('is held by a cinched end as by a clamp where it is pulled in, and slides back as through any other where it is not', () => {
    // Out of line, the wire is pulled in from behind; with its brackets nearer together it has more than it needs.
    for (const [turns, aside, last, like] of [
      [[0, 0], [0, 2.5, 0], [0, 0, 0], 'held'],
      [[60, -60], [0, 0, 0], [-1.5, 0, 0], 'sliding'],
    ] as const) {
      const inner = { ...sliding, moved: aside };
      const states = (['cinched', like] as const).map(
        (lengthwise) => analyseAppliance(wireOf([{}, inner, { lengthwise, moved: last }], [...turns])).neutral!,
      );
      expect(states[0].fibreStress!).toBeGreaterThan(0.99 * alloy.yield);
      expect(states[0].slid[2] > 0.1).toBe(like === 'sliding');
      for (const k of [0, 1, 2]) {
        expect(states[0].wrenches[k].moment[2]).toBeCloseTo(states[1].wrenches[k].moment[2], 2);
        expect(states[0].wrenches[k].force[0]).toBeCloseTo(states[1].wrenches[k].force[0], 2);
      }
    }
  });

  it('closes a plastic cycle', () => {
    const law: UniaxialLaw = { ...perfect, hardening: 690 } as UniaxialLaw;
    const wire: ApplianceDesign = {
      ...design([straight(40)], [{ station: 4 }, { station: 13 }, { station: 22, ...sliding }], section, yielding(law)),
      activation: { motion: { kind: 'move', attachment: 2, direction: [0, 1, 0] }, stages: [0] },
    };
    const path = inelasticWire(wire, law);
    expect(engageInelastically(path).ok).toBe(true);
    const cycle = () => {
      for (const to of [1.5, 3, 1.5, 0, -1.5, -3, -1.5, 0]) expect(advanceInelastically(path, to).ok).toBe(true);
      return path.spans.flatMap(({ span }) => [...span.u]);
    };
    cycle();
    const before = cycle();
    const after = cycle();
    const largest = Math.max(...before.map(Math.abs));
    for (const [k, value] of before.entries()) expect(Math.abs(after[k] - value)).toBeLessThan(1e-3 * largest);
    expect(path.controls.amounts[1]).toBeLessThan(0.1);
  });

  it('joins its curve again after release', () => {
    const wire = wireOf([{}, sliding, sliding], [60, 40]);
    const path = inelasticWire(wire, perfect);
    expect(engageInelastically(path).ok).toBe(true);
    const first = path.spans.flatMap(({ span }) => [...span.u]);
    const slid = [...path.controls.amounts];
    expect(release(path)).toBe(true);
    expect(engageInelastically(path).ok).toBe(true);
    const largest = Math.max(...first.map(Math.abs));
    for (const [k, value] of path.spans.flatMap(({ span }) => [...span.u]).entries()) {
      expect(Math.abs(value - first[k])).toBeLessThan(1e-2 * largest);
    }
    for (const [k, amount] of path.controls.amounts.entries()) expect(amount).toBeCloseTo(slid[k], 2);
  });

  it('is bounded by friction as the elastic one is', () => {
    const friction = 0.15;
    const wire = design(
      [straight(6), preactivate([0, 0, radians(30)]), straight(20)],
      [
        { station: 4, length: 3 },
        { station: 17.5, length: 3, lengthwise: 'sliding', friction },
      ],
      section,
      alloy,
    );
    const { neutral, yielding: beyond } = analyseAppliance(wire);
    expect(beyond).toBeDefined();
    const smooth = analyseAppliance({
      ...wire,
      attachments: wire.attachments.map((attachment) => ({ ...attachment, friction: 0 })),
    }).neutral!;
    expect(neutral!.wrenches[1].moment[2]).toBeCloseTo(smooth.wrenches[1].moment[2], 6);
    const { least, most } = neutral!.friction![1];
    const { force, moment } = neutral!.wrenches[1];
    const normal = normalForces(force, moment, 3, width);
    for (const bound of [least.force[0], most.force[0]]) {
      // As in friction.test.ts; the bend stands higher here, by which the tension turns the wire more.
      expect(Math.abs(Math.abs(bound - force[0]) / (friction * normal) - 1)).toBeLessThan(0.2);
    }
    expect(least.force[0]).toBeLessThan(force[0]);
    expect(most.force[0]).toBeGreaterThan(force[0]);
  });

  it('is followed as a closing loop whose wire passes a bracket before it is pulled through the tube', () => {
    const g = { length: 1, shape: [0, 0, 0], preactivation: [0, 0, radians(40)] } as const;
    const elements = [straight(20), g, ...roundLoop, g, straight(8)];
    const total = elements.reduce((sum, { length }) => sum + length, 0);
    const wire = design(
      elements,
      [
        { station: 6, length: 3 },
        { station: 15, length: 3, ...sliding },
        { station: total - 2, length: 3 },
      ],
      rectangle(0.019, 0.025),
      alloy,
      { motion: { kind: 'pull', attachment: 0 }, stages: [0, 1, 2, 3] },
    );
    const { neutral, stages, yielding: beyond, unfollowed } = analyseAppliance({ ...wire, trialActivation: 3 });
    expect(unfollowed).toBeUndefined();
    expect(beyond!.trial!.setTurn).toBeGreaterThan(radians(5));
    expect(beyond!.trial!.neutral.motion).toBeGreaterThan(beyond!.first.neutral.motion);
    for (const { state } of stages) {
      const { force, moment } = imbalance(wire, state!);
      expect(force).toBeLessThan(1e-2);
      expect(moment).toBeLessThan(0.1);
    }
    expect(neutral!.wrenches[0].force[0]).toBeCloseTo(0, 2);
  });
});
