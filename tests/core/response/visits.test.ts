/** Teeth moving under a wire, against closed forms of the linear law and of straight beams, and against finer time steps. */
import { describe, expect, it } from 'vitest';
import type { ApplianceDesign, ToothGroup } from '#core/design';
import { identityMatrix, type Vec3 } from '#core/math/vector';
import { sigma2 } from '#core/response/root';
import { integrateTo } from '#core/response/runge-kutta';
import { type Course, followVisits, REFERENCE_PRESSURE, type VisitRule } from '#core/response/visits';
import { design, preactivate, straight, verticalLoop } from '../designs';

const DAY = 86_400;
const MONTH = (365.25 / 12) * DAY;
const section = { kind: 'round', diameter: 0.4 } as const;
const alloy = { name: 'steel', modulus: 180_000, poisson: 0.3, yield: 1e6, smallestInnerRadius: 1 };
const RATE = 0.7 / MONTH;

function group(attachment: number, resistance: Vec3, more: Partial<ToothGroup> = {}): ToothGroup {
  return {
    name: `group ${attachment}`,
    attachments: [attachment],
    resistance,
    axes: identityMatrix,
    rootLength: 12,
    rootArea: 300,
    rowSpread: 0,
    bothSides: false,
    ...more,
  };
}

function followed(of: ApplianceDesign, rule: Partial<VisitRule>, ...more: [longest?: number, error?: number]): Course {
  const whole: VisitRule = { interval: 42 * DAY, longest: 1000 * DAY, rate: RATE, ...rule };
  const [longest, error] = more;
  const step = longest === undefined ? {} : { longest, error };
  const course = followVisits(of, [], whole, () => true, { step });
  if ('reason' in course) throw new Error(course.reason);
  return course;
}

describe('limits with a closed form', () => {
  it('constant force through the centre of resistance, no friction: translation at a constant rate', () => {
    const force = 1.5;
    const wire = design([straight(20)], [{ station: 2 }, { station: 18, lengthwise: 'sliding' }], section, alloy);
    const pulled: ApplianceDesign = {
      ...wire,
      loads: [
        {
          kind: 'elastic',
          from: { on: 'attachment', attachment: 0 },
          to: { on: 'attachment', attachment: 1 },
          law: { kind: 'constant', force },
        },
      ],
      groups: [group(0, [0, 0, 0]), group(1, [16, 0, 0], { rootArea: 500 })],
    };
    // Seats at the centres of resistance: neither tips.
    const moved = {
      ...pulled,
      groups: pulled.groups.map((one, k) => ({ ...one, resistance: wire.attachments[k].seatedWire.position })),
    };
    const course = followed(moved, { close: { amount: 4, between: [0, 1] } });
    const speed = ((RATE * force) / REFERENCE_PRESSURE) * (1 / 300 + 1 / 500);
    expect(course.end.kind).toBe('closed');
    expect(Math.abs(course.duration / (4 / speed) - 1)).toBeLessThan(1e-6);
    const last = course.points[course.points.length - 1];
    // Shares inverse to root surfaces, nothing turned.
    expect(last.groups[0].moved[0]).toBeCloseTo((4 * 500) / 800, 5);
    expect(last.groups[1].moved[0]).toBeCloseTo((-4 * 300) / 800, 5);
    for (const { turned } of last.groups) for (const angle of turned) expect(Math.abs(angle)).toBeLessThan(1e-6);
  });

  it('a pure couple: rotation about the centre of resistance, dying away as the wire straightens', () => {
    const angle = 0.02;
    const length = 20;
    const wire = design(
      [straight(2 + length / 2), preactivate([0, 0, angle]), straight(2 + length / 2)],
      [{ station: 2 }, { station: 2 + length, lengthwise: 'sliding' }],
      section,
      alloy,
    );
    const turning: ApplianceDesign = {
      ...wire,
      groups: wire.attachments.map(({ seatedWire }, k) => group(k, seatedWire.position)),
    };
    const course = followed(turning, { longest: 120 * DAY });
    const last = course.points[course.points.length - 1];
    // Both ends of a beam turned by θ/2 - φ toward each other bear M = 2 E I (θ/2 - φ) / L (simple beam, equal end
    // couples); φ' = c M / (A p σ²) then gives φ = θ/2 (1 - exp(-k t)).
    const inertia = (Math.PI * section.diameter ** 4) / 64;
    const k = (RATE / (REFERENCE_PRESSURE * 300 * sigma2(12))) * ((2 * alloy.modulus * inertia) / length);
    const expected = (angle / 2) * (1 - Math.exp(-k * last.time));
    for (const [side, { turned, moved }] of last.groups.entries()) {
      // Second-order terms of the angle, and the error allowed to the steps over the root: a thousandth of the angle.
      expect(Math.abs(Math.abs(turned[2]) / expected - 1)).toBeLessThan(5e-3);
      expect(Math.hypot(...moved)).toBeLessThan(1e-3);
      expect(Math.sign(turned[2])).toBe(side === 0 ? -Math.sign(last.groups[1].turned[2]) : Math.sign(turned[2]));
    }
  });

  it('a group without force stays', () => {
    const wire = design([straight(20)], [{ station: 0 }, { station: 20 }], section, alloy);
    const course = followed({ ...wire, groups: [group(0, [0, 9, 0]), group(1, [20, 9, 0])] }, { longest: 100 * DAY });
    for (const { moved, turned } of course.points[course.points.length - 1].groups) {
      expect(Math.hypot(...moved, ...turned)).toBeLessThan(1e-9);
    }
    expect(course.end.kind).toBe('time-is-up');
  });
});

describe('a closing loop', () => {
  const loop: ApplianceDesign = (() => {
    const wire = design(
      [straight(8), ...verticalLoop(8, 1.5, 26, 14, 0.2), straight(2)],
      [{ station: 8 }, { station: 8 + 26 + 16 - 2 * 1.5 - 2 * 1.5 + Math.PI * 1.5 - 0.0 }],
      { kind: 'rectangle', height: 0.4064, width: 0.5588, cornerRadius: 0 },
      { ...alloy, modulus: 66_000 },
    );
    return {
      ...wire,
      activation: { motion: { kind: 'pull', attachment: 0 }, stages: [0, 2] },
      groups: wire.attachments.map(({ seatedWire: { position } }, k) =>
        group(k, [position[0], position[1] + 9, position[2] - 4], { rootArea: k === 0 ? 900 : 600 }),
      ),
    };
  })();
  const rule = { activate: 2, close: { amount: 3, between: [0, 1] as const } };

  it('halving the time step changes nothing by more than 1 %', () => {
    const usual = followed(loop, rule);
    const fine = followed(loop, rule, 1 / 6, 0.0005);
    expect(usual.end.kind).toBe('closed');
    expect(usual.reactivations).toBe(fine.reactivations);
    expect(Math.abs(usual.duration / fine.duration - 1)).toBeLessThan(0.01);
    const [a, b] = [usual, fine].map(({ points }) => points[points.length - 1].groups);
    const size = (pick: (of: (typeof a)[number]) => Vec3) => Math.max(...b.map((one) => Math.hypot(...pick(one))));
    for (const k of [0, 1]) {
      for (const part of ['moved', 'turned', 'crownMoved'] as const) {
        for (const axis of [0, 1, 2] as const) {
          expect(Math.abs(a[k][part][axis] - b[k][part][axis])).toBeLessThan(0.01 * size((one) => one[part]));
        }
      }
    }
  });

  it('takes twice as long at half the rate and half as many visits', () => {
    const usual = followed(loop, rule);
    const slow = followed(loop, { ...rule, rate: RATE / 2, interval: 84 * DAY });
    expect(Math.abs(slow.duration / usual.duration - 2)).toBeLessThan(1e-6);
    expect(slow.reactivations).toBe(usual.reactivations);
  });

  it('moves both teeth by what their root surfaces share where neither tips', () => {
    // Centres of resistance at the brackets do not help here, since the loop's couples still turn them; the shift of each
    // centre follows the force alone, which is equal and opposite.
    const last = followed(loop, rule).points.at(-1);
    expect(last).toBeDefined();
    const [back, front] = last?.groups ?? [];
    expect(Math.abs(back.moved[0] * 900 + front.moved[0] * 600)).toBeLessThan(0.01 * Math.abs(front.moved[0] * 600));
  });

  it('turns from tipping to root movement as it deactivates', () => {
    const { points, visits } = followed(loop, rule);
    const first = points.filter(({ time }) => time < visits[1].time);
    const ratios = first.map(({ state }) => state.wrenches[1].moment[2] / -state.wrenches[1].force[0]);
    // From uncontrolled tipping past translation, which is where the ratio is the depth of the centre of resistance.
    expect(ratios[0]).toBeLessThan(9);
    expect(ratios[ratios.length - 1]).toBeGreaterThan(9);
    const tips = first.map(({ groups }) => groups[1].turned[2]);
    // Crown-distal while it tips; then the root follows, and the tip goes back.
    const most = Math.min(...tips);
    expect(most).toBeLessThan(0);
    expect(tips[tips.length - 1]).toBeGreaterThan(most);
  });

  it('ends with a reason where the wire cannot be drawn any further', () => {
    const course = followed(loop, { ...rule, close: { amount: 16, between: [0, 1] } });
    expect(course.end.kind).toBe('not-reactivated');
    expect(course.end).toMatchObject({ failure: { reason: 'bend-in-slot' } });
  });
});

describe('the integration', () => {
  it('is of third order (exponential decay)', () => {
    const errorAt = (steps: number): number => {
      const y = Float64Array.of(1);
      integrateTo(
        y,
        { from: 0, to: 1 },
        Float64Array.of(1),
        {
          rates: (at, into) => {
            into[0] = -2 * at[0];
            return true;
          },
          stepped: () => undefined,
        },
        { longest: 1 / steps, error: 1 },
      );
      return Math.abs(y[0] - Math.exp(-2));
    };
    // Between 2^2.8 and 2^3.2 at each halving: the order of the method, with the next term of its error.
    for (const steps of [4, 8]) expect(Math.log2(errorAt(steps) / errorAt(2 * steps))).toBeCloseTo(3, 0);
  });

  it('stops at a share of a step, and says when rates are missing', () => {
    const y = Float64Array.of(0);
    const motion = {
      rates: (_: Float64Array, into: Float64Array) => into.fill(1).length > 0,
      stepped: (_: Float64Array, after: Float64Array) => (after[0] >= 0.5 ? 0.25 : undefined),
    };
    const stopped = integrateTo(y, { from: 0, to: 1 }, Float64Array.of(1), motion, { longest: 0.4, error: 1 });
    expect(stopped).toEqual({ kind: 'stopped', time: 0.5 });
    expect(y[0]).toBeCloseTo(0.5, 12);
    const without = integrateTo(
      y,
      { from: 0, to: 1 },
      Float64Array.of(1),
      { ...motion, rates: () => false },
      { longest: 1, error: 1 },
    );
    expect(without).toEqual({ kind: 'no-rates', time: 0 });
  });
});

describe('a stiff wire', () => {
  it('held lengthwise, lets a tooth turn as far as it drives it, and no further (beam between two clamps)', () => {
    // Bent by a small angle in its middle and held at both ends, of which one is free to turn about its seat: in the end the
    // moment there has gone, and with it all of the other end's but what the first leaves: a propped beam without load.
    const angle = 0.02;
    const length = 20;
    const wire = design(
      [straight(2 + length / 2), preactivate([0, 0, angle]), straight(2 + length / 2)],
      [{ station: 2 }, { station: 2 + length }],
      section,
      alloy,
    );
    const turning: ApplianceDesign = {
      ...wire,
      // Off its seat, so that a turn pulls at the wire, which hardly gives way lengthwise.
      groups: [group(1, [wire.attachments[1].seatedWire.position[0], 3, 0])],
    };
    const course = followed(turning, { longest: 3000 * DAY, interval: 300 * DAY, rate: 10 * RATE });
    const last = course.points[course.points.length - 1];
    expect(course.end.kind).toBe('time-is-up');
    const { force, moment } = last.state.wrenches[1];
    const about = [force[0] * 3 + moment[2], force[0], force[1]].map(Math.abs);
    const first = course.points[0].state.wrenches[1];
    // Everything that can move it has died away to a few per cent of what it was.
    expect(Math.max(...about.slice(1))).toBeLessThan(
      0.05 * Math.max(...first.force.map(Math.abs), Math.abs(first.moment[2]) / length),
    );
    expect(about[0]).toBeLessThan(0.05 * Math.abs(first.moment[2]));
  });
});
