/** Wires supported on their way: hooks that they run past, slots with play, and loads, against beam formulas. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceDesign, Load } from '#core/design';
import { sectionProperties, stiffness } from '#core/material/section';
import { thirdOrderPlay } from '#core/material/slot-play';
import type { Vec3 } from '#core/math/vector';
import { bend, design, preactivate, radians, rectangle, steel, straight } from './designs';

const section = rectangle(0.016, 0.022);
const size = sectionProperties(section);
const { height } = size;
const { EIside: EI, GJ } = stiffness(section, steel);
const options = { mesh: 'strict', compliance: 'bending-only', yielding: 'elastic' } as const;
const solve = (one: ApplianceDesign) => {
  const analysis = analyseAppliance(one, options);
  expect(analysis.failure).toBeUndefined();
  const state = analysis.stages[0].state!;
  expect(state.stable).toBe(true);
  expect(state.residual.force).toBeLessThan(1e-4);
  return state;
};

describe('a hook that the wire runs past', () => {
  test('bends a beam held at both ends as a load in its middle does: F = 192 EI d / L³ (handbook 3.5, two fixed-guided halves)', () => {
    const [d, L] = [0.001, 20];
    // Sliding through the last bracket the wire is not stretched.
    const { wrenches, slid } = solve(
      design(
        [straight(24)],
        [
          { station: 2 },
          { station: 2 + L / 2, fitting: 'hook', moved: [0, d, 0] },
          { station: 2 + L, lengthwise: 'sliding', length: 0 },
        ],
        section,
        steel,
      ),
    );
    // Small displacement: the error of a slope's square, (d / L)², is far below what the contacts give, 1e-6 N/N mm.
    expect(wrenches[1].force[1] / (-(192 * EI * d) / L ** 3)).toBeCloseTo(1, 4);
    expect(wrenches[0].force[1] / ((96 * EI * d) / L ** 3)).toBeCloseTo(1, 4);
    expect(wrenches[1].moment[2]).toBeCloseTo(0, 6);
    expect(Math.abs(slid[2])).toBeLessThan(1e-5);
  });
});

describe('a slot with play', () => {
  const slot = { height: height + 0.1, depth: 0.8 };

  test('lets the wire be where it does not touch, and bends it as a cantilever from where one edge does', () => {
    const width = 3;
    const L = 12;
    const at = (moved: number) =>
      solve(
        design(
          [straight(30)],
          [
            { station: 4 },
            {
              station: 4 + L + width / 2,
              length: width,
              play: true,
              slot,
              lengthwise: 'sliding',
              moved: [0, moved, 0],
            },
          ],
          section,
          steel,
        ),
      );
    const free = at(0.04);
    expect(Math.abs(free.wrenches[1].force[1])).toBeLessThan(1e-6);
    expect(free.seated[1]!.touching).toEqual({ height: 0, depth: 0, torque: false });
    // Beyond the 0.05 mm of play a cantilever of length L + width is lifted at the far edge first: it tips less than the slot is deep.
    const touching = at(0.06);
    const expected = (-3 * EI * 0.01) / (L + width) ** 3;
    // At the far edge the wire would lie above at first touch only while its slope stays below; near edge of a straight rise touches first.
    const near = (-3 * EI * 0.01) / L ** 3;
    const force = touching.wrenches[1].force[1];
    expect(touching.seated[1]!.touching.height).toBe(1);
    expect(Math.min(Math.abs(force / expected - 1), Math.abs(force / near - 1))).toBeLessThan(1e-3);
    expect(touching.seated[1]!.touching.depth).toBe(0);
  });

  const [L, w, angle] = [10, 3, radians(6)];
  /** With play in the height of both slots, and in their depth. */
  const vBend = (height: number, depth: number) =>
    solve(
      design(
        [straight(2 + w + L / 2), preactivate([0, 0, angle]), straight(L / 2 + w + 2)],
        [
          {
            station: 2 + w / 2,
            length: w,
            play: true,
            slot: { height: size.height + height, depth: size.width + depth },
          },
          {
            station: 2 + w + L + w / 2,
            length: w,
            play: true,
            slot: { height: size.height + height, depth: size.width + depth },
            lengthwise: 'sliding',
          },
        ],
        section,
        steel,
      ),
    );

  test('eats its share of a V bend: M = EI (θ - 2ψ) / (L + 2w/3), with two slots of width w and ψ = play / w', () => {
    // Without play in depth the wire has nowhere to roll to.
    const play = 0.1;
    const state = vBend(play, 0);
    // Each end turns by ψ = (H - h) / w until it touches two edges; between them it bends like a beam on two supports under an
    // end moment, by M w / 3EI (beam formulas from memory, textbook).
    const tilt = play / w;
    const moment = (EI * (angle - 2 * tilt)) / (L + (2 * w) / 3);
    // Held at one seat, the wire draws in at the other, so that the bend is not quite in the middle: one couple gains what the
    // other loses. Slopes of 3 deg: the square of it, 0.3 %, is what small-angle formulas leave.
    const mean = (Math.abs(state.wrenches[0].moment[2]) + Math.abs(state.wrenches[1].moment[2])) / 2;
    expect(Math.abs(mean / moment - 1)).toBeLessThan(3e-3);
    expect(Math.sign(state.wrenches[0].moment[2])).toBe(-Math.sign(state.wrenches[1].moment[2]));
    expect(state.seated[0]!.touching.height).toBe(2);
    expect(Math.abs(state.seated[1]!.turn[2])).toBeGreaterThan(tilt * 0.9);
  });

  test('lets a V bend that is pressed straight roll over until it wedges', () => {
    // A wire bent in one plane and pressed straight would rather have its bend lie sideways, where nothing presses it (the energy of a
    // bend falls with the cosine of its roll): it rolls to the end of its third-order play.
    const state = vBend(0.1, 0.2);
    const play = thirdOrderPlay(section, height + 0.1) as number;
    for (const seated of state.seated) {
      expect(seated!.touching.torque).toBe(true);
      expect(Math.abs(Math.abs(seated!.turn[0]) / play - 1)).toBeLessThan(0.01);
    }
  });

  test('eats its play of a twist: T = GJ (φ - γ) / l (handbook 2.3 and 3.5)', () => {
    const [l, angle] = [10, radians(20)];
    const play = thirdOrderPlay(section, slot.height) as number;
    const twisted = (turn: number) =>
      solve(
        design(
          [
            straight(4),
            preactivate([0, 0, 0]),
            { length: 2, shape: [0, 0, 0], preactivation: [turn, 0, 0] },
            straight(14),
          ],
          [
            { station: 4 },
            { station: 4 + l, length: 3, play: true, slot: { ...slot, depth: 2 }, lengthwise: 'sliding' },
          ],
          section,
          steel,
        ),
      );
    expect(play).toBeLessThan(angle);
    // The slot's middle takes the torque.
    const torque = (GJ * (angle - play)) / l;
    const state = twisted(angle);
    expect(Math.abs(state.wrenches[1].moment[0]) / torque).toBeCloseTo(1, 4);
    expect(state.seated[1]!.touching.torque).toBe(true);
    expect(Math.abs(state.seated[1]!.turn[0])).toBeCloseTo(play, 4);
    expect(Math.abs(twisted(0.9 * play).wrenches[1].moment[0])).toBeLessThan(1e-4);
  });
});

describe('a load', () => {
  // Another tooth far away that only the elastic reaches: its slot, where the wire passes it however far it is bent, lets the wire be.
  const far = 1e5;
  const pulled = (force: number, L: number): ApplianceDesign => {
    const base = design(
      [straight(4 + L)],
      [
        { station: 4 },
        {
          station: 5,
          length: 1,
          play: true,
          slot: { height: 4 * far, depth: 4 * far },
          lengthwise: 'sliding',
          moved: [0, far, 0],
        },
      ],
      section,
      steel,
    );
    const load: Load = {
      kind: 'elastic',
      from: { on: 'wire', station: 4 + L },
      to: { on: 'attachment', attachment: 1 },
      law: { kind: 'constant', force },
    };
    return { ...base, loads: [load] };
  };

  test.each([
    // Bisshopp and Drucker's elastica (handbook 3.7, C15 to C18): α = PL²/EI, deflection and shortening over L.
    [1, 0.301720774, 0.0564332363],
    [2, 0.49345748, 0.160641721],
    [10, 0.810609025, 0.554995598],
  ])('pulls a cantilever as the elastica says: α = %d', (alpha, deflection, shortening) => {
    const L = 20;
    const force = (alpha * EI) / L ** 2;
    const state = solve(pulled(force, L));
    const tip = state.loads[0].places[0];
    // The far tooth is 1e5 mm away, so that the pull's direction is off by 1e-4 rad at most.
    expect(tip[1] / L).toBeCloseTo(deflection, 3);
    expect(1 - (tip[0] - 4) / L).toBeCloseTo(shortening, 3);
    expect(state.wrenches[0].moment[2] / (force * (tip[0] - 4))).toBeCloseTo(1, 3);
    expect(state.wrenches[1].force[1]).toBeCloseTo(-force, 6);
  });

  test('between two places of the wire balances itself: a coil spring opens a loop by F / k (handbook 3.10, C30)', () => {
    // Legs of a U held at the ends of both feet; a coil pushes them apart at mid height.
    const r = 1;
    const leg = 7;
    const elements = [
      straight(6),
      bend(Math.PI / 2),
      straight(leg),
      bend(-Math.PI, r),
      straight(leg),
      bend(Math.PI / 2),
      straight(6),
    ];
    const total = 12 + 2 * leg + Math.PI * r;
    const base = design(elements, [{ station: 2 }, { station: total - 2 }], section, steel);
    const coil = (force: number): ApplianceDesign => ({
      ...base,
      loads: [
        {
          kind: 'coil',
          from: { on: 'wire', station: 6 + leg / 2 },
          to: { on: 'wire', station: total - 6 - leg / 2 },
          law: { kind: 'constant', force },
        },
      ],
    });
    const places = (force: number): readonly [Vec3, Vec3] => solve(coil(force)).loads[0].places;
    const distance = ([a, b]: readonly [Vec3, Vec3]) => b[0] - a[0];
    const small = 1e-3;
    const opened = (distance(places(small)) - distance(places(-small))) / 2;
    // Pulled together; the same deflection by statically indeterminate beam theory, integrated here: unit load method with the
    // two redundants at one foot removed by least squares.
    expect(opened / small).toBeLessThan(0);
    expect(Math.abs(opened / small / flexibility(r, leg, 4) + 1)).toBeLessThan(2e-3);
    const { wrenches } = solve(coil(0.5));
    const sum = [0, 1, 2].map((c) => wrenches[0].force[c] + wrenches[1].force[c]);
    for (const c of sum) expect(Math.abs(c)).toBeLessThan(1e-6);
  });

  /** Approach of the mid points of the legs per N that pulls them together, mm/N: force method on the symmetric frame. */
  function flexibility(r: number, leg: number, foot: number): number {
    // Half the frame, from the clamped foot to the top's middle, where symmetry leaves a moment X and an axial force Y.
    const points: [x: number, y: number, ds: number][] = [];
    const n = 4000;
    for (let k = 0; k < n; k++) points.push([-r - foot + ((k + 0.5) * foot) / n, 0, foot / n]);
    for (let k = 0; k < n; k++) points.push([-r, ((k + 0.5) * leg) / n, leg / n]);
    for (let k = 0; k < n; k++) {
      const angle = Math.PI - ((k + 0.5) * (Math.PI / 2)) / n;
      points.push([r * Math.cos(angle), leg + r * Math.sin(angle), ((Math.PI / 2) * r) / n]);
    }
    const top = leg + r;
    const load = ([, y]: readonly number[]) => Math.max(0, leg / 2 - y);
    const unit = [() => 1, ([, y]: readonly number[]) => top - y];
    const integrate = (a: (p: readonly number[]) => number, b: (p: readonly number[]) => number) =>
      points.reduce((sum, p) => sum + a(p) * b(p) * p[2], 0) / EI;
    const [a, b, d] = [integrate(unit[0], unit[0]), integrate(unit[0], unit[1]), integrate(unit[1], unit[1])];
    const [p, q] = [integrate(unit[0], load), integrate(unit[1], load)];
    const determinant = a * d - b * b;
    const X = -(d * p - b * q) / determinant;
    const Y = -(a * q - b * p) / determinant;
    return 2 * (integrate(load, load) + X * p + Y * q);
  }
});
