/**
 * A straight archwire that slides through ten brackets out of line: solved for every one of many, balanced, at rest where its
 * energy says, and for small displacements as a continuous beam.
 */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState } from '#core/analysis/analysis';
import { stiffness } from '#core/material/section';
import { thirdOrderPlay } from '#core/material/slot-play';
import { rotationMatrix } from '#core/math/rotation';
import { apply, column, dot } from '#core/math/vector';
import { BRACKETS, randomArchwire, SPACING } from '../random/random-archwires';
import { randomNumbers } from '../random/random-designs';
import { imbalance } from '../validation/balance';
import { betaTitanium, design, radians, rectangle, straight } from './designs';

const section = rectangle(0.016, 0.022);
const { EIside, EIup, GJ } = stiffness(section, betaTitanium);
/** Sources and energies here know bending and torsion only. */
const bending = { mesh: 'strict', compliance: 'bending-only', yielding: 'elastic' } as const;
const places = Array.from({ length: BRACKETS }, (_, k) => k);
const stationOf = (k: number) => 12 + k * SPACING;
const wire = [straight(24 + (BRACKETS - 1) * SPACING)];

describe('brackets displaced at random', () => {
  test.each([
    // The solver notes' three sets (section 1).
    { movement: 0.5, turn: 5, width: 0 },
    { movement: 1, turn: 10, width: 0 },
    { movement: 2, turn: 20, width: 0 },
    { movement: 0.5, turn: 5, width: 3 },
    { movement: 1, turn: 10, width: 3 },
  ])(
    'up to $movement mm and $turn deg, $width mm wide: each of 100 is solved and balanced',
    (displacements) => {
      const random = randomNumbers(20_241);
      for (let k = 0; k < 100; k++) {
        const one = randomArchwire(random, displacements);
        const { failure, stages } = analyseAppliance(one, { yielding: 'elastic' });
        expect(failure, `archwire ${k}`).toBeUndefined();
        const state = stages[0].state!;
        expect(state.wrenches.flatMap(({ force, moment }) => [...force, ...moment]).every(Number.isFinite)).toBe(true);
        // A step of 1e-2 of the forces, squared (the default criterion), is what the default leaves.
        const { force, moment } = imbalance(one, state);
        expect(force, `archwire ${k}`).toBeLessThan(1e-3);
        expect(moment, `archwire ${k}`).toBeLessThan(1e-3);
      }
    },
    120_000,
  );
});

describe('brackets with play', () => {
  test.each([
    { movement: 0.5, turn: 5, width: 3, play: 0.04 },
    { movement: 0.5, turn: 5, width: 3, play: 0.1 },
    { movement: 0.2, turn: 3, width: 3, play: 0.1 },
    { movement: 1, turn: 10, width: 3, play: 0.04 },
    { movement: 1, turn: 10, width: 3, play: 0.1 },
  ])(
    '$play mm, up to $movement mm and $turn deg: each of 30 is solved, stable and balanced, and turned no further than its slots let it',
    (displacements) => {
      const random = randomNumbers(11);
      for (let k = 0; k < 30; k++) {
        const one = randomArchwire(random, displacements, section);
        const { failure, stages } = analyseAppliance(one, { yielding: 'elastic' });
        expect(failure, `archwire ${k}`).toBeUndefined();
        const state = stages[0].state!;
        expect(state.stable, `archwire ${k}`).toBe(true);
        const { force, moment } = imbalance(one, state);
        expect(force, `archwire ${k}`).toBeLessThan(1e-3);
        expect(moment, `archwire ${k}`).toBeLessThan(1e-3);
        const height = section.kind === 'rectangle' ? section.height : 0;
        const third = thirdOrderPlay(section, height + displacements.play) as number;
        for (const [i, seated] of state.seated.entries()) {
          // How far the section's height stands turned out of the slot's, seen along the slot; 100 N mm turn a contact in by 1e-6 rad.
          const { axes } = one.attachments[i].seatedWire;
          const up = apply(rotationMatrix(seated!.turn), column(axes, 1));
          const turn = Math.atan2(dot(up, column(axes, 2)), dot(up, column(axes, 1)));
          expect(Math.abs(turn)).toBeLessThan(third + 1e-5);
        }
      }
    },
    120_000,
  );
});

describe('an archwire through brackets that stand at different heights and tips', () => {
  const random = randomNumbers(77);
  const offsets = places.map(() => ({ height: 1 - 2 * random(), tip: radians(10) * (1 - 2 * random()) }));
  const HELD = 4;
  /** Slid by given amounts, or free to. */
  const archwire = (slid: readonly number[], lengthwise: 'held' | 'sliding') =>
    design(
      wire,
      places.map((k) => ({
        station: stationOf(k) - slid[k],
        moved: [slid[k], offsets[k].height, 0] as const,
        turned: rotationMatrix([0, 0, offsets[k].tip]),
        lengthwise: k === HELD ? ('held' as const) : lengthwise,
      })),
      section,
      betaTitanium,
    );

  /** Strain energy of all spans, N mm, integrated anew from what the teeth before each of them bear. */
  function energy({ wrenches }: EngagedState, slid: readonly number[]): number {
    let sum = 0;
    for (let k = 0; k + 1 < BRACKETS; k++) {
      let [fx, fy, moment] = [0, 0, 0];
      for (let i = 0; i <= k; i++) {
        const { force, moment: couple } = wrenches[i];
        fx += force[0];
        fy += force[1];
        const [x, y] = [(i - k) * SPACING, offsets[i].height - offsets[k].height];
        moment += couple[2] + x * force[1] - y * force[0];
      }
      // Midpoint rule; its error, of h², is one in a million.
      const h = (SPACING - slid[k + 1] + slid[k]) / 1000;
      let [x, y, turn] = [0, 0, offsets[k].tip];
      for (let i = 0; i < 1000; i++) {
        const half = (moment - x * fy + y * fx) / EIside;
        const middle = turn + (half * h) / 2;
        const at = moment - (x + (h / 2) * Math.cos(turn)) * fy + (y + (h / 2) * Math.sin(turn)) * fx;
        x += h * Math.cos(middle);
        y += h * Math.sin(middle);
        turn += (h * at) / EIside;
        sum += (h * at ** 2) / (2 * EIside);
      }
    }
    return sum;
  }

  test('rests where its energy is stationary in what has slid', () => {
    const { failure, stages } = analyseAppliance(
      archwire(
        places.map(() => 0),
        'sliding',
      ),
      bending,
    );
    expect(failure).toBeUndefined();
    const slid = stages[0].state!.slid;
    expect(Math.max(...slid.map(Math.abs))).toBeGreaterThan(0.05);
    const step = 1e-4;
    const ways = [
      places.map((k) => (k === HELD ? 0 : 1 - 2 * random())),
      ...[0, 3, 9].map((one) => places.map((k) => (k === one ? 1 : 0))),
    ];
    for (const way of ways) {
      const [low, middle, high] = [-step, 0, step].map((by) => {
        const at = slid.map((amount, k) => amount + by * way[k]);
        return energy(analyseAppliance(archwire(at, 'held'), bending).stages[0].state!, at);
      });
      const curvature = (low - 2 * middle + high) / step ** 2;
      expect(curvature).toBeGreaterThan(0);
      // The solver notes' own figure: within 5e-5 mm.
      expect(Math.abs((high - low) / (2 * step))).toBeLessThan(5e-5 * curvature);
    }
  }, 120_000);
});

/** Moments that a beam's ends are turned by, left and right, N mm, counter-clockwise: slope deflection (textbook, from memory). */
function slopeDeflection(EI: number, L: number, left: number, right: number, rise: number): readonly [number, number] {
  const chord = rise / L;
  return [((2 * EI) / L) * (2 * left + right - 3 * chord), ((2 * EI) / L) * (left + 2 * right - 3 * chord)];
}

/** Forces up and moments counter-clockwise of a continuous beam on its supports. */
function beam(EI: number, rises: readonly number[], slopes: readonly number[]): { force: number[]; moment: number[] } {
  const [force, moment] = [places.map(() => 0), places.map(() => 0)];
  for (let k = 0; k + 1 < BRACKETS; k++) {
    const [left, right] = slopeDeflection(EI, SPACING, slopes[k], slopes[k + 1], rises[k + 1] - rises[k]);
    moment[k] -= left;
    moment[k + 1] -= right;
    force[k] -= (left + right) / SPACING;
    force[k + 1] += (left + right) / SPACING;
  }
  return { force, moment };
}

describe('small displacements, against a straight beam on ten supports', () => {
  const random = randomNumbers(5);
  const some = (most: number) => places.map(() => (1 - 2 * random()) * most);
  const largest = (values: readonly number[]) => Math.max(...values.map(Math.abs));
  /** Largest miss, of the largest value. */
  const miss = (found: readonly number[], expected: readonly number[]) =>
    largest(found.map((value, k) => value - expected[k])) / largest(expected);
  // The beam leaves out the twist by forces that act 1e-5 mm out of line, a few 1e-5 of the torsion; the solver leaves a
  // thousandth of shear, which adds 1 % at most, and contacts that give 1e-6 mm/N: 1e-5 each.
  const tolerance = 1e-4;

  test('clamped in brackets: slope deflection in both planes, and torsion', () => {
    const [heights, depths, tips, rotations, torques] = [1e-5, 1e-5, 1e-5, 1e-5, 1e-5].map(some);
    const { failure, stages } = analyseAppliance(
      design(
        wire,
        places.map((k) => ({
          station: stationOf(k),
          moved: [0, heights[k], depths[k]] as const,
          turned: rotationMatrix([torques[k], rotations[k], tips[k]]),
          lengthwise: k === 6 ? ('held' as const) : ('sliding' as const),
        })),
        section,
        betaTitanium,
      ),
      bending,
    );
    expect(failure).toBeUndefined();
    const { wrenches } = stages[0].state!;
    const column = (kind: 'force' | 'moment', axis: number) => wrenches.map((wrench) => wrench[kind][axis]);
    const tipped = beam(EIside, heights, tips);
    expect(miss(column('force', 1), tipped.force)).toBeLessThan(tolerance);
    expect(miss(column('moment', 2), tipped.moment)).toBeLessThan(tolerance);
    // A turn about y lowers z along x.
    const turned = beam(
      EIup,
      depths,
      rotations.map((turn) => -turn),
    );
    expect(miss(column('force', 2), turned.force)).toBeLessThan(tolerance);
    expect(
      miss(
        column('moment', 1),
        turned.moment.map((moment) => -moment),
      ),
    ).toBeLessThan(tolerance);
    const torsion = places.map((k) =>
      [k - 1, k + 1]
        .filter((other) => other in torques)
        .reduce((sum, other) => sum + (GJ * (torques[other] - torques[k])) / SPACING, 0),
    );
    expect(miss(column('moment', 0), torsion)).toBeLessThan(tolerance);
  });

  test('past hooks between two brackets: slopes without moments at each hook', () => {
    const heights = some(1e-3);
    const tips = [1e-4, -2e-4];
    const { failure, stages } = analyseAppliance(
      design(
        wire,
        places.map((k) => ({
          station: stationOf(k),
          moved: [0, heights[k], 0] as const,
          ...(k === 0 || k === BRACKETS - 1
            ? {
                turned: rotationMatrix([0, 0, tips[k === 0 ? 0 : 1]]),
                lengthwise: k === 0 ? ('held' as const) : ('sliding' as const),
              }
            : { fitting: 'hook' as const }),
        })),
        section,
        betaTitanium,
      ),
      bending,
    );
    expect(failure).toBeUndefined();
    const { wrenches } = stages[0].state!;
    // Slopes s by relaxation, s(k-1) + 4 s(k) + s(k+1) = 3 (y(k+1) - y(k-1)) / L: no moment from both sides.
    const slopes = places.map((k) => (k === 0 ? tips[0] : k === BRACKETS - 1 ? tips[1] : 0));
    for (let sweep = 0; sweep < 60; sweep++) {
      for (let k = 1; k + 1 < BRACKETS; k++) {
        slopes[k] = (3 * (heights[k + 1] - heights[k - 1])) / SPACING / 4 - (slopes[k - 1] + slopes[k + 1]) / 4;
      }
    }
    const expected = beam(EIside, heights, slopes);
    expect(
      miss(
        wrenches.map(({ force }) => force[1]),
        expected.force,
      ),
    ).toBeLessThan(tolerance);
    expect(
      miss(
        wrenches.map(({ moment }) => moment[2]),
        expected.moment,
      ),
    ).toBeLessThan(tolerance);
  });
});
