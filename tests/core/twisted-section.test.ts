/** Fibre sections that are bent and twisted, against closed forms of plastic torsion and of the two together. */
import { describe, expect, it } from 'vitest';
import type { Section } from '#core/design';
import { FIBRES, historySize } from '#core/material/fibre-history';
import { commit } from '#core/material/fibre-slip';
import { sectionProperties } from '#core/material/section';
import { bendAndTwist, twistedAnswer } from '#core/material/section-moments';
import { SHEAR, type TwistedSection, twistedSection } from '#core/material/twisted-section';
import { fibreLaw } from '#core/material/uniaxial-law';

const E = 69_000;
const G = E / (2 * (1 + 0.33));
const Y = 930;
const shearYield = Y / Math.sqrt(3);
const perfect = fibreLaw({ kind: 'elastic-plastic', yield: Y, hardening: 0 }, E);
const hardening = fibreLaw({ kind: 'elastic-plastic', yield: Y, hardening: 2000 }, E);
const round: Section = { kind: 'round', diameter: 0.5 };
const rectangle = (height: number, width: number): Section => ({ kind: 'rectangle', height, width, cornerRadius: 0 });
const fine = { rows: 20, columns: 40, rings: 40, sectors: 40 };

function state(section: TwistedSection, strains: readonly [number, number, number], history?: Float64Array) {
  const answer = twistedAnswer();
  bendAndTwist(section, history ?? new Float64Array(historySize(section)), 0, ...strains, answer);
  return answer;
}

/** Along a way in equal parts, committed at each. */
function along(section: TwistedSection, to: readonly [number, number, number], parts: number) {
  const history = new Float64Array(historySize(section));
  const at = (k: number) => to.map((x) => (x * k) / parts) as [number, number, number];
  for (let k = 1; k < parts; k++) commit(section, history, 0, ...at(k));
  return state(section, to, history);
}

describe('torsion alone', () => {
  it.each([round, rectangle(0.4826, 0.635), rectangle(0.4, 0.4), { ...rectangle(0.4, 0.56), cornerRadius: 0.08 }])(
    'is elastic with the stiffness of the section: %j',
    (section) => {
      const { torque, momentUp, momentSide } = state(twistedSection(section, perfect, G), [1e-4, 0, 0]);
      expect(torque / (G * sectionProperties(section).torsionConstant * 1e-4)).toBeCloseTo(1, 10);
      expect(Math.hypot(momentUp, momentSide)).toBeLessThan(1e-9 * torque);
    },
  );

  it('of a round bar goes from the elastic torque to 4/3 of it (Prager and Hodge; handbook of plastic torsion, from memory)', () => {
    // T/T_y = 4/3 - (θ_y/θ)³ / 3.
    const section = twistedSection(round, perfect, G, fine);
    const radius = round.kind === 'round' ? round.diameter / 2 : 0;
    const first = shearYield / (G * radius);
    const atYield = (Math.PI / 2) * shearYield * radius ** 3;
    for (const ratio of [1, 1.5, 2, 4]) {
      const expected = 4 / 3 - 1 / (3 * ratio ** 3);
      // Rings of a 40th of the radius, and the least slope past yield.
      expect(Math.abs(state(section, [ratio * first, 0, 0]).torque / atYield / expected - 1)).toBeLessThan(2e-3);
    }
  });

  it.each([
    [1, 1],
    [1, 1.3],
    [1, 2],
    [1, 4],
  ])('of a rectangle %d × %d ends above the heap of sand, by no more than Schwarz allows', (a, b) => {
    // Nadai's heap: τ a² (3b - a) / 6, a the shorter side. With elastic warping kept the limit is τ ∫ |shear|, which is no
    // less (upper bound theorem) and no more than τ √(area J).
    const heap = (shearYield * a * a * (3 * b - a)) / 6;
    const section = twistedSection(rectangle(a, b), perfect, G, fine);
    const torque =
      state(section, [(400 * shearYield) / G, 0, 0]).torque -
      (1e-4 * section.torsion.stiffness * (400 * shearYield)) / G;
    expect(torque / heap).toBeGreaterThan(1);
    expect(torque).toBeLessThan(shearYield * Math.sqrt(a * b * sectionProperties(rectangle(a, b)).torsionConstant));
  });
});

describe('bending and torsion', () => {
  it('leave no fibre outside the ellipse of von Mises, and the outermost on it', () => {
    const section = twistedSection(round, perfect, G);
    for (const [twist, curvature] of [
      [0.3, 0],
      [0.2, 0.1],
      [0.05, 0.2],
    ] as const) {
      const history = new Float64Array(historySize(section));
      commit(section, history, 0, twist, 0, curvature);
      const { count, up, torsion } = section;
      const used = Array.from({ length: count }, (_, k) => {
        const along = E * (-curvature * up[k] - history[FIBRES + k]);
        const across =
          G *
          Math.hypot(
            twist * torsion.shear[SHEAR * k] - history[FIBRES + count + k],
            twist * torsion.shear[SHEAR * k + 1] - history[FIBRES + 2 * count + k],
          );
        return Math.hypot(along, Math.sqrt(3) * across) / Y;
      });
      expect(Math.abs(Math.max(...used) - 1)).toBeLessThan(1e-9);
    }
  });

  it('of a round bar end between the bounds of limit analysis', () => {
    // Prager and Hodge. Below: everywhere the stress αY along the bar and √(1 - α²) Y/√3 round it, M = α M_p, T = √(1 - α²) T_p.
    // Above: the work of the mode that it flows in, Mκ + Tθ = Y ∫ √(κ² y² + θ² r² / 3) dA, here by polar midpoints.
    const section = twistedSection(round, perfect, G, fine);
    const radius = 0.25;
    const plasticMoment = (4 / 3) * Y * radius ** 3;
    const plasticTorque = ((2 * Math.PI) / 3) * shearYield * radius ** 3;
    for (const share of [0.2, 0.5, 1, 2]) {
      const mode = [10 * share, 10] as const;
      const { torque, momentSide } = along(section, [mode[0], 0, mode[1]], 10);
      let work = 0;
      const parts = 400;
      for (let k = 0; k < parts; k++) {
        const angle = ((k + 0.5) * 2 * Math.PI) / parts;
        work +=
          ((Y * 2 * Math.PI) / parts) *
          Math.hypot(mode[1] * Math.sin(angle), mode[0] / Math.sqrt(3)) *
          (radius ** 3 / 3);
      }
      // The elastic core at strains of some hundred times those of yield, and the least slope.
      expect(Math.abs((momentSide * mode[1] + torque * mode[0]) / work - 1)).toBeLessThan(2e-2);
      expect(Math.hypot(torque / plasticTorque, momentSide / plasticMoment)).toBeGreaterThan(1);
    }
  });

  it.each([perfect, hardening])('have the tangent of their moments, symmetric', (law) => {
    const section = twistedSection(rectangle(0.43, 0.64), law, G);
    const history = new Float64Array(historySize(section));
    commit(section, history, 0, 0.05, 0.03, 0.08);
    const at: [number, number, number] = [0.09, -0.02, 0.1];
    const own = state(section, at, history);
    const rows = [
      [own.twistTwist, own.twistUp, own.twistSide],
      [own.twistUp, own.upUp, own.upSide],
      [own.twistSide, own.upSide, own.sideSide],
    ];
    const step = 1e-7;
    for (let c = 0; c < 3; c++) {
      const moved = (by: number) => state(section, at.map((x, k) => x + (k === c ? by : 0)) as typeof at, history);
      const [more, less] = [moved(step), moved(-step)];
      const slopes = (['torque', 'momentUp', 'momentSide'] as const).map((key) => (more[key] - less[key]) / (2 * step));
      for (let r = 0; r < 3; r++) {
        expect(Math.abs(slopes[r] - rows[r][c])).toBeLessThan(1e-4 * section.stiffnessSide);
      }
    }
  });

  it('do not depend on the steps of a proportional way', () => {
    const section = twistedSection(rectangle(0.43, 0.64), hardening, G);
    const [one, many] = [1, 50].map((parts) => along(section, [0.1, 0.05, 0.08], parts));
    expect(one.torque / many.torque).toBeCloseTo(1, 2);
    expect(one.momentSide / many.momentSide).toBeCloseTo(1, 2);
  });
});
