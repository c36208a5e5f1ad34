/** The inelastic kernel against closed forms, the elastic kernel and the solver notes' independent study. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceDesign, WireElement } from '#core/design';
import {
  advanceInelastically,
  engageAtInelasticNeutral,
  engageInelastically,
  type InelasticPath,
  release,
} from '#core/mechanics/inelastic/inelastic-path';
import { bend, betaTitanium, design, preactivate, radians, rectangle, straight } from './designs';
import { type Fineness, inelasticWire } from './inelastic-wire';

const neverYields = { kind: 'elastic-plastic', yield: 1e9, hardening: 0 } as const;

describe('a wire that stays elastic', () => {
  it.each([
    ['in its plane', 0, false],
    ['in its plane, by the spatial step', 0, true],
    ['in space', 0.35, true],
  ])('bears what the elastic kernel says %s', (_, sideways, spatial) => {
    const wire = loop(sideways);
    const { neutral, stages } = analyseAppliance(wire, {
      mesh: 'strict',
      extraActivations: [1],
    });
    const path = inelasticWire(wire, neverYields, { spatial });
    expect(engageAtInelasticNeutral(path).ok).toBe(true);
    expect(path.motion).toBeCloseTo(neutral!.motion, 2);
    expect(advanceInelastically(path, neutral!.motion + 1).ok).toBe(true);
    const { force, moment } = stages[1].state!.wrenches[0];
    const u = path.spans[0].span.u;
    // Mesh of the solver notes' 22.5°; two-point collocation is of fourth order.
    const F = Math.hypot(...force);
    const M = Math.hypot(...moment);
    for (let k = 0; k < 3; k++) {
      expect(Math.abs(u[3 + k] - force[k])).toBeLessThan(5e-4 * F);
      expect(Math.abs(u[k] - moment[k])).toBeLessThan(5e-4 * M);
    }
  });
});

describe('pure bending', () => {
  // A straight wire with a bend of constant curvature pressed flat again: pure bending, twice the yield curvature.
  const L = 20;
  const section = rectangle(0.019, 0.025);
  const curvature = (2 * 2 * betaTitanium.yield) / (betaTitanium.modulus * 0.019 * 25.4);
  const pressed = (along: 1 | 2): ApplianceDesign => {
    const turn: [number, number, number] = [0, 0, 0];
    turn[along] = curvature * L;
    return design(
      [{ length: L, shape: [0, 0, 0], preactivation: turn }],
      [{ station: 0 }, { station: L }],
      section,
      betaTitanium,
    );
  };
  const law = { kind: 'elastic-plastic', yield: betaTitanium.yield, hardening: 0 } as const;

  it('bears 1.375 times the yield moment and keeps 0.3125 of its bend (handbook 3.4, C5)', () => {
    const path = inelasticWire(pressed(2), law, { layers: 200 });
    expect(engageInelastically(path).ok).toBe(true);
    const yieldMoment = (betaTitanium.yield * 0.025 * 25.4 * (0.019 * 25.4) ** 2) / 6;
    expect(Math.abs(Math.abs(path.spans[0].span.u[2]) / yieldMoment - 1.375)).toBeLessThan(2e-4);
    expect(release(path)).toBe(true);
    // What the flattening leaves of it: the wire springs back to 1 - 0.3125 of the bend.
    for (const k of [2, 5, 2 + 6 * 7]) expect(path.spans[0].curvature[k] / curvature).toBeCloseTo(1 - 0.3125, 3);
  });

  it('does the same through the width in space, where the wire is deeper', () => {
    const path = inelasticWire(pressed(1), law);
    expect(engageInelastically(path).ok).toBe(true);
    const [b, h] = [0.025 * 25.4, 0.019 * 25.4];
    const eta = (2 * (betaTitanium.yield / (betaTitanium.modulus * b))) / curvature;
    const expected = ((betaTitanium.yield * h * b * b) / 6) * (1.5 - 0.5 * eta * eta);
    // 12 columns over the width: 0.15 % (solver notes 3.5), at one depth of yielding up to twice that.
    expect(
      Math.abs(Math.hypot(path.spans[0].span.u[0], path.spans[0].span.u[1], path.spans[0].span.u[2]) / expected - 1),
    ).toBeLessThan(5e-3);
  });
});

describe('a cantilever', () => {
  // Perfectly plastic rectangle under an end load, small deflections: d/d_y = (P_y/P)² [5 - (3 + P/P_y) √(3 - 2 P/P_y)]
  // (Prager and Hodge, Theory of Perfectly Plastic Solids, 1951, from memory). At P = 1.5 P_y it is 20/9.
  const L = 10;
  const section = rectangle(0.018, 0.025);
  // Soft enough that it yields at a deflection of a few µm.
  const alloy = { ...betaTitanium, yield: 0.93 };
  const [b, t] = [0.025 * 25.4, 0.018 * 25.4];
  const loadAtYield = (alloy.yield * b * t * t) / (6 * L);
  const deflectionAtYield = (2 * alloy.yield * L * L) / (3 * alloy.modulus * t);
  const load = (ratio: number, length: number) => {
    const wire = design([straight(L)], [{ station: 0 }, { station: L, fitting: 'hook' }], section, alloy, {
      motion: { kind: 'move', attachment: 1, direction: [0, 1, 0] },
      stages: [0],
    });
    const law = { kind: 'elastic-plastic', yield: alloy.yield, hardening: 0 } as const;
    const path = inelasticWire(wire, law, {
      mesh: { turn: 1, length, elastic: 1 },
      layers: 64,
      compliance: 'bending-only',
    });
    expect(engageInelastically(path).ok).toBe(true);
    for (let k = 1; k <= 4; k++) expect(advanceInelastically(path, (k / 4) * ratio * deflectionAtYield).ok).toBe(true);
    return Math.abs(path.spans[0].span.u[4]) / loadAtYield;
  };

  it.each([1.1, 1.25, 1.4])('deflects as the closed form says at %d times the yield load', (p) => {
    const deflection = (5 - (3 + p) * Math.sqrt(3 - 2 * p)) / (p * p);
    expect(Math.abs(load(deflection, 0.25) / p - 1)).toBeLessThan(1e-3);
  });

  it('comes closer to it with a finer mesh', () => {
    const p = 1.4;
    const deflection = (5 - (3 + p) * Math.sqrt(3 - 2 * p)) / (p * p);
    const error = (length: number) => Math.abs(load(deflection, length) / p - 1);
    expect(error(0.25)).toBeLessThan(error(2) / 4);
  });
});

describe('the solver notes, problem P2-45', () => {
  /**
   * Vertical loop of 69 GPa and 1000 MPa, 0.4826 x 0.635 mm, 2 mm wide, clamps 12 mm apart, gables of 45° a side. The notes
   * do not give the radii of its base bends and gables, nor to where its 7 mm are measured; they are chosen here so that
   * the elastic wire has the notes' 10.682 N and -47.143 N mm. What it does past yield is then foretold, not fitted.
   */
  const gabled = (height: number, base: number, gable: number, hardening: number, given: Partial<Fineness> = {}) => {
    const turn = radians(45);
    const g: WireElement = { length: gable * turn, shape: [0, 0, 0], preactivation: [0, 0, turn] };
    const arm = straight(6 - 1 - base - gable * turn);
    const leg = straight(height - 1 - base);
    const elements = [arm, g, bend(Math.PI / 2, base), leg, bend(-Math.PI, 1), leg, bend(Math.PI / 2, base), g, arm];
    const total = elements.reduce((sum, { length }) => sum + length, 0);
    const alloy = { ...betaTitanium, modulus: 69_000, yield: 1000 };
    const wire = design(elements, [{ station: 0 }, { station: total }], rectangle(0.019, 0.025), alloy, {
      motion: { kind: 'move', attachment: 1, direction: [1, 0, 0] },
      stages: [0, 3],
    });
    return (yieldStress: number) =>
      inelasticWire(
        wire,
        { kind: 'elastic-plastic', yield: yieldStress, hardening },
        { compliance: 'bending-only', ...given },
      );
  };
  const along = (path: InelasticPath, to: number) => {
    const from = path.motion;
    for (let k = 1; k <= 6; k++) expect(advanceInelastically(path, from + (k / 6) * (to - from)).ok).toBe(true);
  };
  const figures = ({ spans: [{ span }] }: InelasticPath) => ({ moment: span.u[2], force: -span.u[3] });
  const cycle = (path: InelasticPath) => {
    expect(engageInelastically(path).ok).toBe(true);
    const first = figures(path);
    along(path, 3);
    const pulled = figures(path);
    expect(release(path)).toBe(true);
    expect(engageInelastically(path).ok).toBe(true);
    const after = figures(path);
    along(path, 3);
    return { first, pulled, after, again: figures(path) };
  };
  // Height, base radius and gable radius, mm; the first is the best fit, the others come within 3 % of the elastic figures.
  const drawings: [number, number, number][] = [
    [7.296, 1, 0.6],
    [7.1, 0.5, 2],
    [7.2, 0.75, 1.2],
    [7.4, 1.25, 0.2],
  ];

  it('has the elastic figures to which it was drawn', () => {
    for (const [k, drawing] of drawings.entries()) {
      const path = gabled(...drawing, 0)(1e9);
      expect(engageInelastically(path).ok).toBe(true);
      const { moment, force } = figures(path);
      const allowed = k === 0 ? 0.005 : 0.035;
      expect(Math.abs(moment + 47.143)).toBeLessThan(allowed * 47.143);
      expect(Math.abs(Math.abs(force) - 10.682)).toBeLessThan(allowed * 10.682);
    }
  });

  it('yields at first engagement, and is reduced by a trial activation of 3 mm as the notes say', () => {
    // The notes' figures are rounded to 0.1 and right to 1 % of the largest of their kind; what they leave open of the
    // drawing comes on top, from the lowest to the highest over the drawings above. Their fibres stand in the middle of eight
    // rows, moved outwards until the elastic stiffness is right (section 3.5), by 1/√(1 - 1/8²): plastic moments come
    // out higher by as much. Fibres by Gauss's rule have no such share.
    const theirs = 1 / Math.sqrt(1 - 1 / 64);
    const cycles = drawings.map((drawing) => cycle(gabled(...drawing, 0)(1000)));
    for (const [when, moment, force] of [
      ['first', 31.9, 7.2],
      ['pulled', 30.3, 10.9],
      ['after', 14.9, 1.7],
    ] as const) {
      const moments = cycles.map((figure) => Math.abs(figure[when].moment));
      const forces = cycles.map((figure) => Math.abs(figure[when].force));
      expect(moment).toBeGreaterThan(Math.min(...moments) - 0.01 * 31.9 - 0.05);
      expect(moment).toBeLessThan(theirs * Math.max(...moments) + 0.01 * 31.9 + 0.05);
      expect(force).toBeGreaterThan(Math.min(...forces) - 0.01 * 10.9 - 0.05);
      expect(force).toBeLessThan(theirs * Math.max(...forces) + 0.01 * 10.9 + 0.05);
    }
    // Moments of the best fit alone, to 1 %.
    expect(Math.abs(cycles[0].first.moment + 31.9)).toBeLessThan(0.01 * 31.9 + 0.05);
    expect(Math.abs(cycles[0].pulled.moment + 30.3)).toBeLessThan(0.01 * 31.9 + 0.05);
    expect(Math.abs(cycles[0].after.moment + 14.9)).toBeLessThan(0.01 * 31.9 + 0.05);
  });

  it('joins its curve again where the trial activation ended, and closes every further cycle', () => {
    const path = gabled(...drawings[0], 690)(1000);
    const { pulled, again, after } = cycle(path);
    expect(again.moment / pulled.moment).toBeCloseTo(1, 6);
    expect(again.force / pulled.force).toBeCloseTo(1, 6);
    path.flow = 0;
    along(path, 0);
    expect(figures(path).moment / after.moment).toBeCloseTo(1, 6);
    along(path, 3);
    expect(figures(path).force / again.force).toBeCloseTo(1, 6);
    // Less than a millionth of the yield strain.
    expect(path.flow).toBeLessThan(1e-6 * (1000 / 69_000));
  });

  it('does not depend on the mesh, the fibres or the steps beyond what the notes allow a planar cycle', () => {
    const reference = cycle(
      gabled(...drawings[0], 0, { layers: 64, mesh: { turn: Math.PI / 24, length: 0.125, elastic: 1 } })(1000),
    );
    const usual = cycle(gabled(...drawings[0], 0)(1000));
    // Solver notes, section 5: 0.5 % of the largest of its kind.
    for (const when of ['first', 'pulled', 'after'] as const) {
      expect(Math.abs(usual[when].moment - reference[when].moment)).toBeLessThan(0.005 * 31.9);
      expect(Math.abs(usual[when].force - reference[when].force)).toBeLessThan(0.005 * 10.9);
    }
  });

  it('is the same by the spatial step, within the coarser fibres of that', () => {
    const planar = cycle(gabled(...drawings[0], 0)(1000));
    const spatial = cycle(gabled(...drawings[0], 0, { spatial: true })(1000));
    // Solver notes, section 5: 1 % in space.
    for (const when of ['first', 'pulled', 'after'] as const) {
      expect(Math.abs(spatial[when].moment - planar[when].moment)).toBeLessThan(0.015 * 31.9);
      expect(Math.abs(spatial[when].force - planar[when].force)).toBeLessThan(0.015 * 10.9);
    }
  });
});

function loop(sideways: number): ApplianceDesign {
  const elements = [
    straight(10),
    preactivate([0, sideways, radians(20)]),
    bend(Math.PI / 2, 0.7),
    straight(5),
    bend(-Math.PI, 1),
    straight(5),
    bend(Math.PI / 2, 0.7),
    { length: 1, shape: [0, 0, 0], preactivation: [sideways, 0, radians(20)] } as const,
    straight(6),
  ];
  const total = elements.reduce((sum, { length }) => sum + length, 0);
  return design(elements, [{ station: 4 }, { station: total - 2 }], rectangle(0.017, 0.025), betaTitanium, {
    motion: { kind: 'pull', attachment: 0 },
    stages: [0],
  });
}
