/**
 * The rod against closed forms and published values. Row numbers are those of the handbook's check list (section 11);
 * "small" rows run at a thousandth of the load, since their source is linear. All sources here leave out shear and
 * stretch, hence `bending-only`.
 */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState } from '#core/analysis/analysis';
import type { Activation, Alloy, ApplianceDesign, Section, WireElement } from '#core/design';
import { rotationMatrix } from '#core/math/rotation';
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

const flat = rectangle(0.016, 0.022);
const move = (direction: readonly [number, number, number], stages: readonly number[]): Activation => ({
  motion: { kind: 'move', attachment: 1, direction },
  stages,
});
const lengthOf = (elements: readonly WireElement[]) => elements.reduce((sum, e) => sum + e.length, 0);

function solved(given: ApplianceDesign, compliance: 'full' | 'bending-only' = 'bending-only'): EngagedState {
  const result = analyseAppliance(given, { compliance, mesh: 'strict' });
  expect(result.failure).toBeUndefined();
  const { state, failure } = result.stages[0];
  expect(failure).toBeUndefined();
  return state!;
}

const within = (value: number, expected: number, relative: number) =>
  expect(Math.abs(value - expected)).toBeLessThan(relative * Math.abs(expected));

function tip({ outline }: EngagedState) {
  const n = outline.points.length;
  return { x: outline.points[n - 3], y: outline.points[n - 2] };
}

describe('large deflection of straight wires', () => {
  // C15-C18: cantilever with a dead load across it. Bisshopp and Drucker, Q Appl Math 1945;3:272-275.
  test.each([
    [1, 0.301720774, 0.0564332363, 26.43352],
    [2, 0.49345748, 0.160641721, 44.790966],
    [5, 0.713791524, 0.387628361, 69.635464],
    [10, 0.810609025, 0.554995598, 81.949325],
  ])('C15-C18: elastica, P L² / EI = %f', (alpha, w, u, slope) => {
    const [L, EI] = [20, 500];
    // A hook that does not hold the wire lengthwise presses across it only, whichever way the wire points.
    const state = solved(
      design(
        [straight(L)],
        [{ station: 0 }, { station: L, fitting: 'hook', moved: [0, w * L, 0] }],
        flat,
        withStiffness(EI, flat),
      ),
    );
    within(state.wrenches[1].force[1], (-alpha * EI) / L ** 2, 1e-5);
    within(L - tip(state).x, u * L, 1e-5);
    // Root moment: force x lever. The lever carries the shortening.
    within(state.wrenches[0].moment[2], ((alpha * EI) / L ** 2) * (1 - u) * L, 1e-5);
    // Energy balance of the elastica: m₀² / 2 EI = P sin(tip slope).
    const m = state.wrenches[0].moment[2];
    const P = state.wrenches[1].force[1];
    within((Math.asin((m * m) / (2 * EI * Math.abs(P))) * 180) / Math.PI, slope, 1e-5);
  });

  test('C20: both slopes held, free to draw in: delta / L 0.301721, shortening 0.056433 at alpha 4', () => {
    const [L, EI] = [20, 500];
    const given = design(
      [straight(L)],
      [{ station: 0 }, { station: L, moved: [0, 0.301720774 * L, 0] }],
      flat,
      withStiffness(EI, flat),
      move([1, 0, 0], [0]),
    );
    const result = analyseAppliance(given, { compliance: 'bending-only', mesh: 'strict' });
    within(result.neutral!.motion, -0.0564332363 * L, 1e-5);
    within(Math.abs(result.neutral!.wrenches[0].force[1]), (4 * EI) / L ** 2, 1e-5);
  });

  // Textbook beam theory; no force acts, so that stretch and shear change nothing and stay on.
  test.each([1, Math.PI / 2, 3])('end couple: a circle of radius EI / M, turned by %f', (m) => {
    const [L, EI] = [20, 500];
    const state = solved(
      design(
        [straight(L)],
        [
          { station: 0 },
          {
            station: L,
            moved: [(L * Math.sin(m)) / m - L, (L * (1 - Math.cos(m))) / m, 0],
            turned: rotationMatrix([0, 0, m]),
          },
        ],
        flat,
        withStiffness(EI, flat),
      ),
      'full',
    );
    // The strict mesh is to be right to 2e-4 of the largest.
    within(Math.abs(state.wrenches[0].moment[2]), (EI * m) / L, 2e-4);
    expect(Math.hypot(...state.wrenches[0].force) * L).toBeLessThan((2e-4 * EI * m) / L);
  });

  // Handbook 3.7: post-buckling of a pinned strut of end slope a, P / Pcr = (2 K(sin(a/2)) / pi)²; its ends come closer
  // by 2 (1 - E / K) of the length. A clamped strut is two of them, of half its length, with the slope a at its quarters.
  test.each([
    [20, 1.0154],
    [60, 1.15172],
    [100, 1.51839],
  ])('pressed together, a straight wire buckles: slope %f° at the quarters, P / Pcr %f', (slope, ratio) => {
    const [L, EI] = [20, 500];
    const { K, E } = completeElliptic(Math.sin(radians(slope) / 2));
    const shortening = 2 * L * (1 - E / K);
    // A bend of 1e-5 rad decides the side; it changes the load by about its share of the slope.
    const state = solved(
      design(
        [straight(L / 2), preactivate([0, 0, 1e-5]), straight(L / 2)],
        [{ station: 0 }, { station: L, moved: [-shortening, 0, 0] }],
        flat,
        withStiffness(EI, flat),
      ),
    );
    const critical = (4 * Math.PI ** 2 * EI) / L ** 2;
    expect(Math.abs(Math.abs(state.wrenches[0].force[0]) / critical / ratio - 1)).toBeLessThan(1e-3);
    expect(state.stable).toBe(true);
  });

  test('a preactivation of 240° in all, spread evenly, straightens to the moment EI x angle / length', () => {
    const [L, EI] = [20, 500];
    const angle = radians(240);
    const wire: WireElement = { length: L, shape: [0, 0, 0], preactivation: [0, 0, angle] };
    const state = solved(
      design([wire], [{ station: 0 }, { station: L }], flat, withStiffness(EI, flat), move([1, 0, 0], [0])),
    );
    within(Math.abs(state.wrenches[0].moment[2]), (EI * angle) / L, 1e-6);
    within(Math.abs(state.wrenches[1].moment[2]), (EI * angle) / L, 1e-6);
    expect(Math.abs(state.motion)).toBeLessThan(1e-6 * L);
  });
});

describe('straight wires and bends, small', () => {
  const small = 1e-3;

  // C23: Burstone and Koenig, Am J Orthod 1974;65:270-289: M_A : M_B = (2 tA + tB) : (2 tB + tA).
  test.each([
    [0.5, 0.8],
    [-0.75, -0.4],
    [1, 1],
    [0, 0.5],
    [-0.5, 0],
    [-1, -1],
  ])('C23: two misaligned brackets, tA / tB = %f', (ratio, expected) => {
    const [L, tB] = [7, 0.2 * small];
    const state = solved(
      design(
        [straight(L)],
        [
          { station: 0, turned: rotationMatrix([0, 0, ratio * tB]) },
          { station: L, turned: rotationMatrix([0, 0, tB]) },
        ],
        flat,
        steel,
        move([1, 0, 0], [0]),
      ),
    );
    expect(Math.abs(state.wrenches[0].moment[2] / state.wrenches[1].moment[2] - expected)).toBeLessThan(1e-5);
  });

  // C24, C26: V bend; couples on the brackets (2 EI th / L)(2 - 3 xi) and (3 xi - 1), common textbook beam theory.
  test.each([0.1, 0.2, 0.4, 0.5])('C24, C26: V bend at xi = %f', (xi) => {
    const [L, EI, angle] = [7, 276.97, 0.2];
    const state = solved(
      design(
        [straight(xi * L), preactivate([0, 0, angle * small]), straight((1 - xi) * L)],
        [{ station: 0 }, { station: L }],
        flat,
        withStiffness(EI, flat),
        move([1, 0, 0], [0]),
      ),
    );
    const unit = (2 * EI * angle) / L;
    // Signs as on the teeth: a bend toward gingival tips the near tooth crown-distal.
    expect(Math.abs(state.wrenches[0].moment[2] / small + unit * (2 - 3 * xi))).toBeLessThan(1e-4 * unit);
    expect(Math.abs(state.wrenches[1].moment[2] / small - unit * (3 * xi - 1))).toBeLessThan(1e-4 * unit);
    expect(
      Math.abs(Math.abs(state.wrenches[0].force[1] / small) - ((6 * EI * angle) / L ** 2) * (1 - 2 * xi)),
    ).toBeLessThan(1e-4 * unit);
  });

  test('C27: step of 0.35 mm', () => {
    const [L, EI, step] = [7, 276.97, 0.35];
    const state = solved(
      design(
        [straight(L)],
        [{ station: 0 }, { station: L, moved: [0, -step * small, 0] }],
        flat,
        withStiffness(EI, flat),
        move([1, 0, 0], [0]),
      ),
    );
    // A wire that steps toward gingival is held down at its mesial end: -6 EI d / L² on both teeth.
    within(state.wrenches[0].moment[2] / small, -11.87, 1e-3);
    within(state.wrenches[1].moment[2] / small, -11.87, 1e-3);
    within(Math.abs(state.wrenches[0].force[1]) / small, 3.3915, 1e-3);
  });

  test('C12: cantilever stiffness of 0.017 x 0.025, 25 mm', () => {
    const section = rectangle(0.017, 0.025);
    const state = solved(
      design(
        [straight(25)],
        [{ station: 0 }, { station: 25, fitting: 'hook', moved: [0, small, 0] }],
        section,
        betaTitanium,
      ),
    );
    within(Math.abs(state.wrenches[1].force[1]) / small, 0.05644, 1e-3);
  });

  test('C48: torsion of 0.016 x 0.022 over 4 mm, 2.0909 N mm per degree', () => {
    const state = solved(
      design([straight(4)], [{ station: 0 }, { station: 4, turned: rotationMatrix([radians(1), 0, 0]) }], flat, steel),
    );
    within(Math.abs(state.wrenches[0].moment[0]), 2.0909, 1e-3);
    within(state.wrenches[1].moment[0], -state.wrenches[0].moment[0], 1e-9);
  });
});

describe('closing loops', () => {
  const EI = 562.612;
  const alloy: Alloy = withStiffness(EI, flat);
  const held = (elements: readonly WireElement[], dx: number, section: Section, material: Alloy) =>
    solved(design(elements, [{ station: 0 }, { station: lengthOf(elements), moved: [dx, 0, 0] }], section, material));

  test('C30: vertical loop h 8, r 1, L 7, small', () => {
    const loop = verticalLoop(8, 1, 7);
    within(lengthOf(loop), 22.1416, 1e-5);
    const state = held(loop, 1e-3, flat, alloy);
    const [F, M] = [state.wrenches[0].force[0], Math.abs(state.wrenches[0].moment[2])];
    within(F / 1e-3, 3.2795, 1e-4);
    within(M / F, 3.2966, 1e-4);
  });

  // C31: non-linear rod solver of the handbook.
  test.each([
    [1, 3.31212, 10.7211],
    [2, 6.73388, 21.292],
  ])('C31: the same, dx = %f', (dx, force, couple) => {
    const state = held(verticalLoop(8, 1, 7), dx, flat, alloy);
    within(state.wrenches[0].force[0], force, 1e-4);
    within(Math.abs(state.wrenches[0].moment[2]), couple, 1e-4);
  });

  test('C32: vertical loop h 6, r 1, L 7: M/F 2.3541', () => {
    const state = held(verticalLoop(6, 1, 7), 1e-3, flat, alloy);
    within(Math.abs(state.wrenches[0].moment[2]) / state.wrenches[0].force[0], 2.3541, 1e-4);
  });

  const offCentre = verticalLoop(10, 1, 14, 11.06);

  test('C34: off-centre loop, small', () => {
    const { wrenches } = held(offCentre, 1e-3, flat, alloy);
    within(wrenches[0].force[0] / 1e-3, 1.8219, 1e-3);
    within(Math.abs(wrenches[0].force[1]) / 1e-3, 0.9129, 1e-3);
    within(Math.abs(wrenches[1].moment[2]) / 1e-3, 10.367, 1e-3);
    // The far end's couple has the sense of the near end's: as couples of a centred loop they would be opposite.
    within(wrenches[0].moment[2] / wrenches[1].moment[2], 2.414 / 10.367, 1e-3);
  });

  test('C35: the same, dx = 1, non-linear', () => {
    const { wrenches } = held(offCentre, 1, flat, alloy);
    within(wrenches[0].force[0], 1.8211, 1e-3);
    within(Math.abs(wrenches[0].force[1]), 0.8298, 1e-3);
    within(Math.abs(wrenches[1].moment[2]), 10.434, 1e-3);
    within(Math.abs(wrenches[0].moment[2]), 2.013, 1e-3);
  });

  const tSection = rectangle(0.017, 0.025);
  const tAlloy = withStiffness(293.961, tSection);

  test('C39: T loop 7 x 10, L 23, small', () => {
    const loop = tLoop(7, 10, 1, 1, 23);
    within(lengthOf(loop), 53.2832, 1e-5);
    const { wrenches } = held(loop, 1e-3, tSection, tAlloy);
    within(wrenches[0].force[0] / 1e-3, 0.67374, 1e-4);
    within(Math.abs(wrenches[0].moment[2]) / wrenches[0].force[0], 2.8846, 1e-4);
  });

  test('C40: the same, dx = 4, non-linear', () => {
    const { wrenches } = held(tLoop(7, 10, 1, 1, 23), 4, tSection, tAlloy);
    within(wrenches[0].force[0], 2.8021, 1e-3);
    within(Math.abs(wrenches[0].moment[2]), 5.9604, 1e-3);
  });

  test('C41: gables of 10° on each side, dx = 2, non-linear', () => {
    const { wrenches } = held(tLoop(7, 10, 1, 1, 23, radians(10)), 2, tSection, tAlloy);
    within(wrenches[0].force[0], 2.3201, 1e-3);
    // Gables turn the roots together: crown-distal on the distal tooth, crown-mesial on the mesial one.
    within(wrenches[0].moment[2], -6.5642, 1e-3);
    within(wrenches[1].moment[2], 6.5642, 1e-3);
  });

  test('C42: gables of 1° on each side, dx = 0, non-linear; neutral shift', () => {
    const loop = tLoop(7, 10, 1, 1, 23, radians(1));
    const { wrenches } = held(loop, 0, tSection, tAlloy);
    within(wrenches[0].force[0], 0.06886, 1e-3);
    within(Math.abs(wrenches[0].moment[2]), 0.3873, 1e-3);
    const free = analyseAppliance(
      design(loop, [{ station: 0 }, { station: lengthOf(loop) }], tSection, tAlloy, move([1, 0, 0], [0])),
      { compliance: 'bending-only' },
    );
    // The linear shift, yb x angle; the non-linear one differs by about the difference of the two forces, 1.5 %.
    within(free.neutral!.motion, -0.1007, 2e-2);
  });
});

/** Handbook 5.3: height H, width W between the end bends' centre lines, end half-circles rb, legs `gap` apart. */
function tLoop(H: number, W: number, rb: number, gap: number, L: number, gable = 0): readonly WireElement[] {
  const quarter = Math.PI / 2;
  const bar = W / 2 - rb - gap / 2;
  const arm = straight((L - gap) / 2);
  const g = preactivate([0, 0, gable]);
  return [
    arm,
    g,
    bend(quarter),
    straight(H - 2 * rb),
    bend(quarter),
    straight(bar),
    bend(-Math.PI, rb),
    straight(W - 2 * rb),
    bend(-Math.PI, rb),
    straight(bar),
    bend(quarter),
    straight(H - 2 * rb),
    bend(quarter),
    g,
    arm,
  ];
}

/** Complete elliptic integrals by the arithmetic-geometric mean (Abramowitz and Stegun 17.6). */
function completeElliptic(k: number): { readonly K: number; readonly E: number } {
  let a = 1;
  let g = Math.sqrt(1 - k * k);
  let c = k;
  let sum = (c * c) / 2;
  for (let n = 1; n < 8; n++) {
    c = (a - g) / 2;
    [a, g] = [(a + g) / 2, Math.sqrt(a * g)];
    sum += 2 ** (n - 1) * c * c;
  }
  const K = Math.PI / (2 * a);
  return { K, E: K * (1 - sum) };
}
