/** Wire drawn through an attachment between two others, against its spans by themselves and against the same wire seated so. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { type Activation, type Alloy, type ApplianceDesign, pullWay } from '#core/design';
import { sectionProperties } from '#core/material/section';
import { drawnBy } from '#core/response/moved-teeth';
import { bend, design, type Holding, preactivate, radians, rectangle, steel, straight } from './designs';

const section = rectangle(0.016, 0.022);
const { height, width } = sectionProperties(section);
const options = { mesh: 'strict', yielding: 'elastic' } as const;

/** Wire from the middle of one slot to that of the next, with a vertical loop 6 mm high and gables. */
const loop = (gable: number) => [
  straight(5),
  preactivate([0, 0, radians(gable)]),
  bend(Math.PI / 2),
  straight(5),
  bend(-Math.PI, 1),
  straight(5),
  bend(Math.PI / 2),
  preactivate([0, 0, radians(gable)]),
  straight(5),
];
const length = (elements: ApplianceDesign['elements']) => elements.reduce((sum, one) => sum + one.length, 0);

/** Through the last of five attachments, past four slots with play, with a gabled loop between the second and the third. */
function pulledPastPlay(angle: number, alloy: Alloy, stages: readonly number[]): ApplianceDesign {
  const play = { length: 3, play: true, slot: { height: height + 0.05, depth: width + 0.05 } };
  const wire = [straight(7), ...loop(angle)];
  const end = 4 + length(wire);
  return design(
    [straight(4), ...wire, straight(30)],
    [
      { station: 4, ...play },
      { station: 11, ...play, lengthwise: 'sliding' },
      { station: end + 1, ...play, lengthwise: 'sliding' },
      { station: end + 8, ...play, lengthwise: 'sliding' },
      { station: end + 17, length: 4 },
    ],
    section,
    alloy,
    { motion: { kind: 'pull', attachment: 4 }, stages },
  );
}

describe('a pull through a clamp behind slots with play', () => {
  test.each([10, 20, 30])(
    'begins where nothing pulls, and goes on by its slope: a loop with gables of %d deg',
    (angle) => {
      const step = 1e-2;
      const analysis = analyseAppliance(pulledPastPlay(angle, steel, [0, 1, 2 - step, 2, 2 + step, 3]), options);
      expect(analysis.failure).toBeUndefined();
      const states = analysis.stages.map(({ state }) => state!);
      const pulls = states.map(({ wrenches }) => -wrenches[4].force[0]);
      // Contacts are found to 1e-7 mm.
      expect(Math.abs(pulls[0])).toBeLessThan(1e-5);
      for (const [k, state] of states.entries()) {
        expect(state.stable).toBe(true);
        expect(state.slid[4]).toBeCloseTo(analysis.neutral!.motion + state.activation, 9);
        if (k > 0) expect(pulls[k]).toBeGreaterThan(pulls[k - 1]);
      }
      // Of the strict mesh, whose tangent is that of its equations to the fourth power of its steps (solver notes, section 3.1).
      expect(Math.abs(analysis.stiffness[3]! / ((pulls[4] - pulls[2]) / (2 * step)) - 1)).toBeLessThan(1e-3);
    },
  );

  test('is followed past yield, below which it bears what the elastic wire does', () => {
    const yielding: Alloy = { ...steel, yield: 2200, law: { kind: 'elastic-plastic', yield: 2200, hardening: 1800 } };
    const wire = pulledPastPlay(20, yielding, [0, 1, 2]);
    const { stages: elastic } = analyseAppliance(wire, { yielding: 'elastic' });
    const { stages, yielding: followed, unfollowed } = analyseAppliance(wire);
    expect(unfollowed).toBeUndefined();
    expect(followed!.failure).toBeUndefined();
    const pulls = [elastic, stages].map((states) => states.map(({ state }) => -state!.wrenches[4].force[0]));
    expect(elastic[1].state!.elasticUse).toBeLessThan(1);
    expect(elastic[2].state!.elasticUse).toBeGreaterThan(1.1);
    // Solver notes, section 5: 1 % in space.
    expect(Math.abs(pulls[1][1] / pulls[0][1] - 1)).toBeLessThan(0.01);
    expect(pulls[1][2]).toBeLessThan(0.99 * pulls[0][2]);
    expect(pulls[1][2]).toBeGreaterThan(pulls[1][1]);
  });
});

describe('a pull through an attachment between two others', () => {
  test.each([1, -1] as const)('draws out of one loop and into the other: way %d', (along) => {
    const [low, high] = [loop(8), loop(14)];
    const [first, middle] = [4, 4 + length(low)];
    const last = middle + length(high);
    const holding = { length: 3 };
    const pull = (attachment: number, amounts: readonly number[], way?: 1 | -1): Activation => ({
      motion: { kind: 'pull', attachment, ...(way && { along: way }) },
      stages: amounts,
    });
    const both = analyseAppliance(
      design(
        [straight(4), ...low, ...high, straight(4)],
        [first, middle, last].map((station) => ({ station, ...holding })),
        section,
        steel,
        pull(1, [0, 0.5, 1], along),
      ),
      options,
    );
    expect(both.failure).toBeUndefined();
    // Neutral: what the two pull, one to each side, is the same.
    expect(Math.abs(both.neutral!.wrenches[1].force[0])).toBeLessThan(1e-6);
    const { motion: neutral } = both.neutral!;
    for (const { activation, state } of both.stages) {
      const drawn = along * (neutral + activation);
      expect(state!.slid).toEqual([0, expect.closeTo(drawn, 9), 0]);
      // Each loop by itself: pulled at its end by as much, let out by as much.
      const alone = (elements: ApplianceDesign['elements'], attachment: 0 | 1, amount: number) => {
        const end = 4 + length(elements);
        const one = (amounts: readonly number[]) =>
          design(
            [straight(4), ...elements, straight(4)],
            [4, end].map((station) => ({ station, ...holding })),
            section,
            steel,
            pull(attachment, amounts),
          );
        const from = analyseAppliance(one([0]), options).neutral!.motion;
        return analyseAppliance(one([amount - from]), options).stages[0].state!.wrenches;
      };
      const lower = alone(low, 1, drawn);
      const upper = alone(high, 0, -drawn);
      for (const part of ['force', 'moment'] as const) {
        for (const c of [0, 1, 2]) {
          const sum = lower[1][part][c] + upper[0][part][c];
          // To the strict criteria, 1e-6 of forces, over some N and some ten N mm.
          expect(Math.abs(state!.wrenches[0][part][c] - lower[0][part][c])).toBeLessThan(1e-4);
          expect(Math.abs(state!.wrenches[1][part][c] - sum)).toBeLessThan(1e-4);
          expect(Math.abs(state!.wrenches[2][part][c] - upper[1][part][c])).toBeLessThan(1e-4);
        }
      }
    }
    // The loops pull and push along with the motion by their stiffnesses together.
    const [a, b] = both.stages.map(({ state }) => -along * state!.wrenches[1].force[0]);
    expect((b - a) / 0.5 / ((both.stiffness[0]! + both.stiffness[1]!) / 2)).toBeCloseTo(1, 2);
  });

  test('is followed past yield, each span by its own history', () => {
    // Steel that hardens hardly at all, loops with gables that yield as they are straightened.
    const yielding: Alloy = { ...steel, yield: 1100, law: { kind: 'elastic-plastic', yield: 1100, hardening: 1800 } };
    const elements = loop(20);
    const middle = 8 + length(elements);
    const stages = [0, 0.2, 0.6, 1];
    const alone = (attachment: 0 | 1, amounts: readonly number[]) =>
      analyseAppliance(
        design(
          [straight(8), ...elements, straight(8)],
          [8, middle].map((station) => ({ station, length: 3 })),
          section,
          yielding,
          { motion: { kind: 'pull', attachment }, stages: amounts, countedFrom: 'seats' },
        ),
      );
    const both = analyseAppliance(
      design(
        [straight(8), ...elements, ...elements, straight(8)],
        [8, middle, middle + length(elements)].map((station) => ({ station, length: 3 })),
        section,
        yielding,
        { motion: { kind: 'pull', attachment: 1, along: 1 }, stages, countedFrom: 'seats' },
      ),
    );
    expect(both.unfollowed).toBeUndefined();
    expect(both.yielding).toBeDefined();
    // Alike on both sides, and from where they stand one is pulled and the other let out.
    for (const [attachment, way, own] of [
      [1, 1, 0],
      [0, -1, 2],
    ] as const) {
      const { stages: expected, yielding: followed } = alone(
        attachment,
        stages.map((amount) => way * amount),
      );
      expect(followed).toBeDefined();
      const M = Math.max(...expected.map(({ state }) => Math.abs(state!.wrenches[1 - attachment].moment[2])));
      const F = Math.max(...expected.map(({ state }) => Math.abs(state!.wrenches[1 - attachment].force[0])));
      for (const [k, { state }] of both.stages.entries()) {
        const [is, was] = [state!.wrenches[own], expected[k].state!.wrenches[1 - attachment]];
        // They stop where wire passes either slot's edge: a planar cycle's 0.5 % of the largest (solver notes, section 5).
        expect(Math.abs(is.moment[2] - was.moment[2])).toBeLessThan(0.005 * M);
        expect(Math.abs(is.force[0] - was.force[0])).toBeLessThan(0.005 * F);
      }
    }
  });

  test('lets the wire go on where it slides through the next one', () => {
    // Straight wire that ends free behind a slot bears nothing, and all of what is drawn goes on.
    const { stages } = analyseAppliance(
      design(
        [straight(40)],
        [{ station: 4 }, { station: 14 }, { station: 26, lengthwise: 'sliding' }],
        section,
        steel,
        { motion: { kind: 'pull', attachment: 1, along: 1 }, stages: [0, 0.002] },
      ),
      options,
    );
    const { state } = stages[1];
    expect(state!.slid[2]).toBeCloseTo(0.002, 9);
    // E A ε with ε = 0.002 / (10 - 0.002).
    const tension = (steel.modulus * height * width * 0.002) / (10 - 0.002);
    expect(state!.wrenches[0].force[0] / tension).toBeCloseTo(1, 6);
    expect(state!.wrenches[1].force[0] / tension).toBeCloseTo(-1, 6);
    expect(Math.abs(state!.wrenches[2].force[0])).toBeLessThan(1e-6);
  });

  test.each<readonly [string, Partial<Holding>, Partial<Holding>]>([
    ['held on both sides', {}, {}],
    ['held with play on both sides', { play: true }, { play: true, lengthwise: 'sliding' }],
    ['hooked on one side', {}, { fitting: 'hook', lengthwise: 'sliding' }],
  ])('leads where the wire is seated so, %s', (_, low, high) => {
    const slot = { height: height + 0.1, depth: width };
    const wire = [...loop(8), straight(6), ...loop(14)];
    const at = (activation: Activation) =>
      design(
        [straight(5), ...wire, straight(12)],
        [
          { station: 4, length: 3, slot, ...low },
          { station: 8 + length(loop(8)), length: 3, moved: [0, 0.2, 0] },
          { station: 7 + length(wire), length: 3, slot, ...high },
        ],
        section,
        steel,
        activation,
      );
    const motion = { kind: 'pull', attachment: 1, along: -1 } as const;
    expect(pullWay(motion)).toBe(-1);
    const one = at({ motion, stages: [0, 0.8] });
    const { stages, failure } = analyseAppliance(one, options);
    expect(failure).toBeUndefined();
    for (const { state } of stages) {
      const seated = analyseAppliance(drawnBy(one, state!.motion), options).stages[0].state!;
      for (const [k, { force, moment }] of state!.wrenches.entries()) {
        for (const c of [0, 1, 2]) {
          // Meshes differ where wire is drawn: the strict mesh's 2e-4 of the largest of its kind (mechanics note).
          const [most, mostMoment] = (['force', 'moment'] as const).map((part) =>
            Math.max(...seated.wrenches.flatMap((wrench) => wrench[part].map(Math.abs))),
          );
          expect(Math.abs(force[c] - seated.wrenches[k].force[c])).toBeLessThan(2e-4 * most);
          expect(Math.abs(moment[c] - seated.wrenches[k].moment[c])).toBeLessThan(2e-4 * mostMoment);
        }
      }
    }
  });
});
