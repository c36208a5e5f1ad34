/** What must hold for any design, whatever the numbers: statics, symmetry, energy, and the order of the method. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState, Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign, Pose, WireElement } from '#core/design';
import { compose } from '#core/geometry/pose';
import { rotationMatrix } from '#core/math/rotation';
import { add, apply, cross, dot, multiply, norm, subtract, type Vec3 } from '#core/math/vector';
import { betaTitanium, design, preactivate, radians, rectangle, straight, verticalLoop } from './designs';

/** A loop with unequal gables, an off-centre V bend, bends out of the plane and a twist. */
const spatial: readonly WireElement[] = (() => {
  const [first, ...rest] = verticalLoop(7, 1, 12, 5, radians(20));
  const last = rest[rest.length - 1];
  return [
    straight(9),
    straight(1.5),
    preactivate([0, radians(12), radians(15)]),
    straight(first.length - 1.5),
    ...rest.slice(0, -1),
    { length: 2, shape: [0, 0, 0], preactivation: [radians(10), radians(-8), radians(5)] },
    straight(last.length - 2),
    straight(3),
  ];
})();
const total = spatial.reduce((sum, e) => sum + e.length, 0);
const holdings = [
  { station: 7, length: 4, fitting: 'tube' as const, turned: rotationMatrix([0.03, 0.02, 0.05]) },
  { station: total - 1.5, length: 3, moved: [0.2, 0.3, -0.4] as Vec3, turned: rotationMatrix([0.1, -0.05, 0.04]) },
];
const pulled = design(spatial, holdings, rectangle(0.017, 0.025), betaTitanium, {
  motion: { kind: 'pull', attachment: 0 },
  stages: [0, 1, 2],
});

function strictStates(given: ApplianceDesign): readonly EngagedState[] {
  const { failure, stages } = analyseAppliance(given, { mesh: 'strict' });
  expect(failure).toBeUndefined();
  return stages.map(({ state }) => state!);
}

function outer(given: ApplianceDesign, state: EngagedState): readonly { at: Vec3; force: Vec3; moment: Vec3 }[] {
  return state.wrenches.map(({ force, moment }: Wrench, k) => {
    const { axes } = given.attachments[k];
    return { at: state.places[k], force: apply(axes, force), moment: apply(axes, moment) };
  });
}

const close = (a: Vec3, b: Vec3, tolerance: number) => expect(norm(subtract(a, b))).toBeLessThan(tolerance);

describe('statics', () => {
  test('reactions balance to 1e-9 of the largest at the strict setting, each end from its own section', () => {
    for (const state of strictStates(pulled)) {
      const [a, b] = outer(pulled, state);
      const force = norm(a.force);
      const moment = Math.max(norm(a.moment), norm(b.moment), norm(cross(subtract(b.at, a.at), b.force)));
      expect(norm(add(a.force, b.force))).toBeLessThan(1e-9 * force);
      const about = add(add(a.moment, b.moment), cross(subtract(b.at, a.at), b.force));
      expect(norm(about)).toBeLessThan(1e-9 * moment);
      expect(state.residual.force).toBeLessThan(1e-9 * force);
      expect(state.residual.moment).toBeLessThan(1e-9 * moment);
    }
  });

  test('without activation along the wire there is no force along it at neutral', () => {
    const { neutral } = analyseAppliance(pulled, { mesh: 'strict' });
    const [first] = outer(pulled, neutral!);
    const along: Vec3 = apply(pulled.attachments[0].seatedWire.axes, [1, 0, 0]);
    expect(Math.abs(dot(first.force, along))).toBeLessThan(1e-9);
  });

  test('a hook gives no moment, and no force along its mesial axis unless tied', () => {
    for (const tied of [false, true]) {
      const given = design(
        spatial,
        [holdings[0], { station: total - 1.5, fitting: 'hook', moved: [0.5, 1, -0.5], tied }],
        rectangle(0.017, 0.025),
        betaTitanium,
      );
      const [state] = strictStates(given);
      const { force, moment } = state.wrenches[1];
      expect(norm(moment)).toBeLessThan(1e-9);
      if (tied) expect(Math.abs(force[0])).toBeGreaterThan(1e-3);
      else expect(Math.abs(force[0])).toBeLessThan(1e-9);
      const [a, b] = outer(given, state);
      expect(norm(add(a.force, b.force))).toBeLessThan(1e-9);
      expect(norm(add(a.moment, cross(subtract(b.at, a.at), b.force)))).toBeLessThan(1e-8);
    }
  });
});

describe('symmetry', () => {
  test('a rigidly moved appliance gives the same results', () => {
    const motion: Pose = { position: [3, -7, 11], axes: rotationMatrix([0.7, -1.1, 0.4]) };
    const moved: ApplianceDesign = {
      ...pulled,
      start: compose(motion, pulled.start),
      attachments: pulled.attachments.map((attachment) => ({
        ...attachment,
        seatedWire: compose(motion, attachment.seatedWire),
        slotAxes: multiply(motion.axes, attachment.slotAxes),
        axes: multiply(motion.axes, attachment.axes),
      })),
    };
    const before = strictStates(pulled);
    for (const [k, state] of strictStates(moved).entries()) {
      for (const [i, wrench] of state.wrenches.entries()) {
        close(wrench.force, before[k].wrenches[i].force, 1e-8);
        close(wrench.moment, before[k].wrenches[i].moment, 1e-7);
      }
      expect(Math.abs(state.stress - before[k].stress)).toBeLessThan(1e-5);
      expect(Math.abs(state.motion - before[k].motion)).toBeLessThan(1e-8);
    }
  });

  test('mirrored across the plane of the arch, the results are mirrored', () => {
    // z -> -z: rotation vectors are axial, so that their parts along x and y change sign.
    const turn = ([x, y, z]: Vec3): Vec3 => [-x, -y, z];
    const place = ([x, y, z]: Vec3): Vec3 => [x, y, -z];
    const frame = (m: Pose['axes']): Pose['axes'] => [m[0], m[1], -m[2], m[3], m[4], -m[5], -m[6], -m[7], m[8]];
    const mirrored: ApplianceDesign = {
      ...pulled,
      elements: pulled.elements.map((e) => ({
        length: e.length,
        shape: turn(e.shape),
        preactivation: turn(e.preactivation),
      })),
      attachments: pulled.attachments.map((attachment) => ({
        ...attachment,
        seatedWire: { position: place(attachment.seatedWire.position), axes: frame(attachment.seatedWire.axes) },
      })),
    };
    const before = strictStates(pulled);
    for (const [k, state] of strictStates(mirrored).entries()) {
      for (const [i, { force, moment }] of state.wrenches.entries()) {
        close(place(force), before[k].wrenches[i].force, 1e-8);
        close(turn(moment), before[k].wrenches[i].moment, 1e-7);
      }
    }
  });

  test('the wire written from its other end gives the same results', () => {
    // Run backwards the section frame is turned half round about up.
    const back = ([twist, up, side]: Vec3): Vec3 => [twist, -up, side];
    const round = (m: Pose['axes']): Pose['axes'] => [-m[0], m[1], -m[2], -m[3], m[4], -m[5], -m[6], m[7], -m[8]];
    const flipped: ApplianceDesign = {
      ...pulled,
      elements: [...pulled.elements]
        .reverse()
        .map((e) => ({ length: e.length, shape: back(e.shape), preactivation: back(e.preactivation) })),
      start: { position: [0, 0, 0], axes: [1, 0, 0, 0, 1, 0, 0, 0, 1] },
      attachments: [...pulled.attachments].reverse().map((attachment) => ({
        ...attachment,
        station: total - attachment.station,
        seatedWire: { position: attachment.seatedWire.position, axes: round(attachment.seatedWire.axes) },
      })),
      activation: { motion: { kind: 'pull', attachment: 1 }, stages: [0, 1, 2] },
    };
    // The two runs differ by their discretisation only: 99 % of designs below 2e-4 at the strict setting.
    const before = strictStates(pulled);
    for (const [k, state] of strictStates(flipped).entries()) {
      const [first, second] = before[k].wrenches;
      const scale = norm(first.force) + 0.1;
      close(state.wrenches[1].force, first.force, 2e-4 * scale);
      close(state.wrenches[0].force, second.force, 2e-4 * scale);
      close(state.wrenches[1].moment, first.moment, 2e-4 * norm(first.moment));
      expect(Math.abs(state.stress - before[k].stress)).toBeLessThan(1e-3 * state.stress);
    }
  });
});

describe('energy', () => {
  const held = (second: Vec3, turn: Vec3) =>
    design(
      spatial,
      [holdings[0], { ...holdings[1], moved: second, turned: rotationMatrix(turn) }],
      rectangle(0.017, 0.025),
      betaTitanium,
    );

  test('the stiffness of an end is symmetric (reciprocity): force by rotation equals moment by displacement', () => {
    // At the state's own pose; the moment of a loaded end makes rotations about different axes not interchange, so
    // mixed terms of displacement are compared.
    const e = 1e-4;
    const at = (moved: Vec3) => strictStates(held(moved, [0.1, -0.05, 0.04]))[0].wrenches[1].force;
    const base: Vec3 = [0.2, 0.3, -0.4];
    const slope = (axis: 0 | 1 | 2): Vec3 => {
      const plus = [...base] as [number, number, number];
      const minus = [...base] as [number, number, number];
      plus[axis] += e;
      minus[axis] -= e;
      const [a, b] = [at(plus), at(minus)];
      return [(a[0] - b[0]) / (2 * e), (a[1] - b[1]) / (2 * e), (a[2] - b[2]) / (2 * e)];
    };
    const K = [slope(0), slope(1), slope(2)];
    const size = Math.max(...K.map(norm));
    for (const [i, j] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ]) {
      expect(Math.abs(K[i][j] - K[j][i])).toBeLessThan(1e-4 * size);
    }
  });

  test('forces do no work round a closed way of the bracket', () => {
    // Simpson along the four sides of a square in the plane x-z, 1 mm wide: the sum vanishes for a conservative force.
    const corner: Vec3 = [0.2, 0.3, -0.4];
    const sides: readonly (readonly [Vec3, Vec3])[] = [
      [corner, [1, 0, 0]],
      [add(corner, [1, 0, 0]), [0, 0, 1]],
      [add(corner, [1, 0, 1]), [-1, 0, 0]],
      [add(corner, [0, 0, 1]), [0, 0, -1]],
    ];
    let work = 0;
    let size = 0;
    for (const [from, way] of sides) {
      const n = 8;
      for (let k = 0; k <= n; k++) {
        const place = add(from, [(way[0] * k) / n, (way[1] * k) / n, (way[2] * k) / n]);
        const weight = (k === 0 || k === n ? 1 : k % 2 ? 4 : 2) / (3 * n);
        const part = dot(strictStates(held(place, [0.1, -0.05, 0.04]))[0].wrenches[1].force, way);
        work += weight * part;
        size += weight * Math.abs(part);
      }
    }
    expect(Math.abs(work)).toBeLessThan(1e-4 * size);
  });

  test('the printed stiffness is the slope of the force along the motion', () => {
    const { stages, stiffness } = analyseAppliance(
      { ...pulled, activation: { motion: { kind: 'pull', attachment: 0 }, stages: [0.999, 1, 1.001] } },
      { mesh: 'strict' },
    );
    const axis: Vec3 = apply(pulled.attachments[0].seatedWire.axes, [1, 0, 0]);
    const along = stages.map(({ state }) => dot(outer(pulled, state!)[0].force, axis));
    // Central difference over 2e-3 mm against the slope from Newton's tangent, which is of third order in the step.
    expect(Math.abs((along[2] - along[0]) / 0.002 / stiffness[1]! - 1)).toBeLessThan(2e-3);
  });
});

describe('method', () => {
  test('order of convergence is four: halving the step divides the error by about 16', () => {
    // A straight wire bent far by its ends; steps are forced by cutting the wire into pieces of minute curvature.
    const answer = (pieces: number): number => {
      const part: WireElement = { length: 24 / pieces, shape: [0, 0, 1e-9], preactivation: [0, 0, 0] };
      const bent = design(
        Array.from({ length: pieces }, (_, k) => (k % 2 ? part : { ...part, shape: [0, 0, -1e-9] as Vec3 })),
        [{ station: 0 }, { station: 24, moved: [-5, 9, 2], turned: rotationMatrix([0.3, 0.2, 0.9]) }],
        rectangle(0.017, 0.025),
        betaTitanium,
      );
      return analyseAppliance(bent, { mesh: 'strict' }).stages[0].state!.wrenches[0].moment[2];
    };
    const [coarse, middle, fine] = [48, 96, 192].map(answer);
    const order = Math.log2((coarse - middle) / (middle - fine));
    expect(order).toBeGreaterThan(3.5);
    expect(order).toBeLessThan(4.5);
  });

  test('the same input gives the same numbers, whatever was solved before', () => {
    const once = analyseAppliance(pulled);
    analyseAppliance(threeBends());
    expect(analyseAppliance(pulled)).toEqual(once);
  });

  test('preactivation of three times 60° in all is not lost by a turn', () => {
    // In small angles the couples grow in proportion; a lost turn would reverse them.
    const couple = (angle: number) =>
      analyseAppliance(threeBends(angle)).stages.map(({ state }) => state!.wrenches[1].moment[2]);
    for (const stage of [0, 1]) {
      const [twenty, forty, sixty] = [20, 40, 60].map((angle) => couple(angle)[stage]);
      expect(forty / twenty).toBeGreaterThan(1.3);
      expect(sixty / forty).toBeGreaterThan(1.1);
    }
  });

  test('extra activations are solved exactly and leave the stages as they are', () => {
    const plain = analyseAppliance(pulled, { mesh: 'strict' });
    const more = analyseAppliance(pulled, { mesh: 'strict', extraActivations: [1.3, 2.5, 0.2] });
    expect(more.stages.map(({ activation }) => activation)).toEqual([0, 1, 2, 1.3, 2.5, 0.2]);
    for (const [k, { state }] of plain.stages.entries()) {
      close(more.stages[k].state!.wrenches[0].force, state!.wrenches[0].force, 1e-8);
    }
    const alone = analyseAppliance(
      { ...pulled, activation: { motion: { kind: 'pull', attachment: 0 }, stages: [1.3] } },
      { mesh: 'strict' },
    );
    close(more.stages[3].state!.wrenches[0].force, alone.stages[0].state!.wrenches[0].force, 1e-8);
  });
});

/** Gables and a V bend of 60° each: 180° in all. */
function threeBends(angle = 60): ApplianceDesign {
  const gable = radians(angle);
  const loop = verticalLoop(7, 1, 14, 7, gable);
  const wire = [straight(12), straight(2), preactivate([0, 0, gable]), straight(4), ...loop.slice(1), straight(2)];
  const length = wire.reduce((sum, e) => sum + e.length, 0);
  return design(wire, [{ station: 12 }, { station: length - 2 }], rectangle(0.017, 0.025), betaTitanium, {
    motion: { kind: 'pull', attachment: 0 },
    stages: [0, 1],
  });
}
