import { expect, test } from 'vitest';
import type { ApplianceDesign } from '#core/design';
import { bend, betaTitanium, preactivate, steel, straight, twoAttachments } from './designs';
import { oracleWrenches } from './discrete-rod';
import { elasticCentre } from './elastic-centre';
import { stiffnessOf } from './stiffness';

/** The oracle is held against closed forms of its own before the solver is held against the oracle. */

const flat16x22 = { kind: 'rectangle', height: 0.4064, width: 0.5588, cornerRadius: 0 } as const;

function verticalLoop(height: number, radius: number, span: number, dx: number): ApplianceDesign {
  const arm = span / 2 - radius;
  const half = Math.PI / 2;
  const elements = [
    straight(1),
    straight(arm),
    bend(half, 0),
    straight(height - radius),
    bend(-2 * half, radius),
    straight(height - radius),
    bend(half, 0),
    straight(arm),
    straight(1),
  ].map((element) => (element.length === 0 ? { ...element, shape: [0, 0, half] as const } : element));
  const total = elements.reduce((sum, element) => sum + element.length, 0);
  return twoAttachments({
    elements,
    section: flat16x22,
    alloy: steel,
    seats: [1, total - 1],
    lengths: [0, 0],
    moved: [dx, 0, 0],
  });
}

test('elastic centre: vertical loop h 8, r 1, L 7 (handbook C30, Castigliano)', () => {
  const found = elasticCentre(verticalLoop(8, 1, 7, 0), { x: 1, y: 0, turn: 0 });
  expect(found.developedLength).toBeCloseTo(22.1416, 3);
  expect(found.centroidHeight).toBeCloseTo(3.2966, 3);
  expect(found.first.force[0]).toBeCloseTo(3.2795, 3);
});

test('discrete rod: elastica, end force alpha = 1 and 2 (handbook C15 and C16, elliptic integrals)', () => {
  const length = 20;
  for (const [alpha, sag] of [
    [1, 0.301720774],
    [2, 0.49345748],
  ]) {
    const design = twoAttachments({
      elements: [straight(length)],
      section: flat16x22,
      alloy: steel,
      seats: [0, length],
      lengths: [0, 0],
      fittings: ['bracket', 'hook'],
      moved: [0, sag * length, 0],
    });
    const [, last] = oracleWrenches(design, 0, { bendingOnly: true })!;
    const found = (-last.force[1] * length ** 2) / stiffnessOf(design).turn[2];
    expect(Math.abs(found / alpha - 1)).toBeLessThan(2e-5);
  }
});

test('discrete rod: vertical loop h 8, r 1, L 7, non-linear (handbook C31, shooting)', () => {
  for (const [dx, force, couple] of [
    [1, 3.3121, 10.721],
    [2, 6.7339, 21.292],
  ]) {
    const [first] = oracleWrenches(verticalLoop(8, 1, 7, dx), 0, { bendingOnly: true })!;
    expect(Math.abs(first.force[0] / force - 1)).toBeLessThan(1e-4);
    expect(Math.abs(Math.abs(first.moment[2]) / couple - 1)).toBeLessThan(1e-4);
  }
});

test('discrete rod: tip-back cantilever held by a point, 30 deg, L 30 (handbook C21, rod integration)', () => {
  const length = 30;
  const angle = Math.PI / 6;
  const design = twoAttachments({
    elements: [preactivate([0, 0, angle], 0), straight(length)].map((element, i) =>
      i === 0 ? { ...element, preactivation: [0, 0, angle] as const } : element,
    ),
    section: { kind: 'rectangle', height: 0.4318, width: 0.635, cornerRadius: 0 },
    alloy: { ...betaTitanium, modulus: 69_000 },
    seats: [0, length],
    lengths: [0, 0],
    fittings: ['bracket', 'hook'],
  });
  // The corner sits at the very clamp: leave a hair of straight wire before it.
  const elements = [straight(1e-6), ...design.elements];
  const attachments = design.attachments.map((one, i) => ({ ...one, station: i * (length + 1e-6) }));
  const [first, last] = oracleWrenches({ ...design, elements, attachments }, 0, { bendingOnly: true })!;
  expect(Math.abs(Math.abs(last.force[1]) / 0.52172 - 1)).toBeLessThan(1e-4);
  expect(Math.abs(Math.abs(first.moment[2]) / 15.2288 - 1)).toBeLessThan(1e-4);
  // Rounding of positions (1e-15 × 30 mm) times the stretch stiffness of the near-rigid pieces.
  expect(Math.abs(last.force[0])).toBeLessThan(1e-6);
});

test('discrete rod: balance in space and second-order convergence', () => {
  const design = twoAttachments({
    elements: [
      straight(4),
      preactivate([0, 0, 0.5], 1),
      preactivate([0, 0.3, 0], 1),
      straight(4),
      bend(Math.PI / 2, 0.8),
      straight(5),
      bend(-Math.PI, 1),
      straight(5),
      bend(Math.PI / 2, 0.8),
      straight(4),
    ],
    section: { kind: 'rectangle', height: 0.4826, width: 0.635, cornerRadius: 0 },
    alloy: betaTitanium,
    seats: [1, 29],
    lengths: [1, 1],
  });
  const at = (longest: number) => oracleWrenches(design, 0, { longest, turn: longest * 0.3 })!;
  const [rough, good] = [at(0.5), at(0.25)];
  const largest = Math.hypot(...good[0].force);
  for (let k = 0; k < 3; k++) {
    expect(Math.abs(rough[0].force[k] - good[0].force[k])).toBeLessThan(1e-4 * largest);
    expect(Math.abs(good[0].force[k] + good[1].force[k])).toBeLessThan(1e-9 * largest);
  }
  const arm = design.attachments[1].seatedWire.position.map((v, k) => v - design.attachments[0].seatedWire.position[k]);
  const { force, moment } = good[1];
  const carried = [
    arm[1] * force[2] - arm[2] * force[1],
    arm[2] * force[0] - arm[0] * force[2],
    arm[0] * force[1] - arm[1] * force[0],
  ];
  const largestMoment = Math.hypot(...good[0].moment);
  for (let k = 0; k < 3; k++) {
    expect(Math.abs(good[0].moment[k] + moment[k] + carried[k])).toBeLessThan(1e-8 * largestMoment);
  }
});
