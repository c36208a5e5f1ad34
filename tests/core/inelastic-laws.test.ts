/** Uniaxial laws and fibre sections against closed forms (handbook 3.3, 3.4 and rows C5 to C7). */
import { describe, expect, it } from 'vitest';
import type { Section } from '#core/design';
import { historySize } from '#core/material/fibre-history';
import { type FibreSection, griddedSection, layeredSection } from '#core/material/fibre-section';
import { commit } from '#core/material/fibre-slip';
import { sectionProperties } from '#core/material/section';
import { bend, sectionAnswer } from '#core/material/section-moments';
import { curvatureLeft, plasticMomentRatio } from '#core/material/springback';
import { fibreLaw, fibreStressAt, LEAST_SLOPE, newHistory, type UniaxialLaw } from '#core/material/uniaxial-law';

const E = 69_000;
const Y = 930;
const rectangle: Section = { kind: 'rectangle', height: 0.4826, width: 0.635, cornerRadius: 0 };
const rounded: Section = { ...rectangle, cornerRadius: 0.08 };
const round: Section = { kind: 'round', diameter: 0.4572 };
const perfect = fibreLaw({ kind: 'elastic-plastic', yield: Y, hardening: 0 }, E);

describe('fibre sections', () => {
  it.each([rectangle, rounded, round])('have exactly the elastic stiffness of $kind', (section) => {
    const { inertiaSide, inertiaUp } = sectionProperties(section);
    for (const fibres of [layeredSection(section, perfect), griddedSection(section, perfect)]) {
      const answer = bent(fibres, 0, 1e-4);
      expect(answer.momentSide / (E * inertiaSide * 1e-4)).toBeCloseTo(1, 12);
    }
    const answer = bent(griddedSection(section, perfect), 1e-4, 0);
    expect(answer.momentUp / (E * inertiaUp * 1e-4)).toBeCloseTo(1, 12);
    expect(Math.abs(bent(griddedSection(section, perfect), 1e-4, 2e-4).upSide)).toBeLessThan(1e-9 * E * inertiaUp);
  });

  // The plateau's least slope bears its share of the elastic moment beside the closed form's; known, and taken off.
  const ownOf = (moment: number, eta: number) => (moment - LEAST_SLOPE / eta) / (1 - LEAST_SLOPE);

  it('carry the moment and keep the curvature of C5, rectangle at twice the yield curvature', () => {
    const { moment, left } = bendAndRelease(layeredSection(rectangle, perfect, 2000), rectangle, 0.5);
    expect(Math.abs(ownOf(moment, 0.5) - 1.375)).toBeLessThan(1e-6);
    expect(Math.abs(left - (1 - 0.5 * moment))).toBeLessThan(1e-9);
    expect(Math.abs(1 - 0.5 * ownOf(moment, 0.5) - 0.3125)).toBeLessThan(1e-6);
  });

  it('carry the moment and keep the curvature of C6, round at twice the yield curvature', () => {
    const { moment, left } = bendAndRelease(layeredSection(round, perfect, 2000), round, 0.5);
    expect(Math.abs(ownOf(moment, 0.5) - 1.49366)).toBeLessThan(1e-4);
    expect(Math.abs(left - 0.25317)).toBeLessThan(1e-4);
  });

  it.each([
    [rectangle, 1.5],
    [round, 1.69765],
  ] as const)('come to the shape factors of C7: %#', (section, factor) => {
    // At a five-hundredth of the yield curvature the elastic core takes off less than 1e-5 of them.
    const { moment } = bendAndRelease(layeredSection(section, perfect, 4000), section, 0.002);
    expect(Math.abs(ownOf(moment, 0.002) / factor - 1)).toBeLessThan(1e-5);
  });

  it.each([
    [rectangle, 'rectangle'],
    [round, 'round'],
  ] as const)('come closer to the closed form with the square of the layers: %#', (section, kind) => {
    const error = (layers: number) => {
      // Mean over depths of yielding, so that no layer's edge favours one of them.
      let sum = 0;
      for (let eta = 0.25; eta < 0.85; eta += 0.01) {
        sum += Math.abs(
          bendAndRelease(layeredSection(section, perfect, layers), section, eta).moment -
            plasticMomentRatio(kind, eta) -
            1e-4 * (1 / eta - plasticMomentRatio(kind, eta)),
        );
      }
      return sum / 60;
    };
    const [coarse, middle, finer] = [error(8), error(16), error(32)];
    expect(coarse / middle).toBeGreaterThan(3);
    expect(middle / finer).toBeGreaterThan(3);
    // The default. Solver notes 3.5: 0.15 % with 12 rows over the height.
    expect(middle).toBeLessThan(1.5e-3);
  });

  it('keep what the closed form of springback says', () => {
    for (const eta of [0.3, 0.5, 0.7]) {
      const { left } = bendAndRelease(layeredSection(rectangle, perfect, 64), rectangle, eta);
      expect(Math.abs(left - curvatureLeft('rectangle', eta))).toBeLessThan(1e-3);
    }
  });

  it('yield alike about both axes of a square, and about its diagonal with the diagonal shape factor 2', () => {
    const square: Section = { kind: 'rectangle', height: 0.5, width: 0.5, cornerRadius: 0 };
    const fibres = griddedSection(square, perfect, { rows: 40, columns: 80, rings: 0, sectors: 0 });
    const k = 1;
    const flat = bent(fibres, 0, k);
    const edge = bent(fibres, k, 0);
    expect(flat.momentSide / edge.momentUp).toBeCloseTo(1, 10);
    // Plastic modulus about a diagonal d = a √2: d³/12 (two triangles); about a side a³/4.
    const diagonal = bent(fibres, k * Math.SQRT1_2, k * Math.SQRT1_2);
    const size = Math.hypot(diagonal.momentUp, diagonal.momentSide);
    expect(size / flat.momentSide).toBeCloseTo((0.5 * Math.SQRT2) ** 3 / 12 / (0.5 ** 3 / 4), 2);
  });
});

describe('elastic-plastic fibres', () => {
  const H = 1000;
  const law = fibreLaw({ kind: 'elastic-plastic', yield: Y, hardening: H }, E);

  it('follow the hardening line and yield back after twice the yield strain', () => {
    const start = strained(law, [0.02]);
    expect(start.stress).toBeCloseTo(Y + H * (0.02 - Y / E), 8);
    const unloaded = strained(law, [0.02, 0.02 - (2 * Y) / E]);
    expect(unloaded.stress).toBeCloseTo(start.stress - 2 * Y, 8);
    const beyond = strained(law, [0.02, 0.02 - (2 * Y) / E - 0.001]);
    expect(beyond.stress).toBeCloseTo(start.stress - 2 * Y - 0.001 * H, 8);
  });

  it('close a cycle between two strains', () => {
    const path = [0.02, -0.015, 0.02, -0.015, 0.02];
    const at = (n: number) => strained(law, path.slice(0, n));
    expect(at(3).stress).toBeCloseTo(at(5).stress, 10);
    expect(at(2).stress).toBeCloseTo(at(4).stress, 10);
    expect(at(3).history).toBeCloseTo(at(5).history, 12);
  });

  it('do not depend on the steps of a monotonic way', () => {
    const steps = Array.from({ length: 50 }, (_, k) => ((k + 1) / 50) * 0.03);
    expect(strained(law, steps).stress).toBeCloseTo(strained(law, [0.03]).stress, 9);
  });
});

describe('superelastic fibres', () => {
  const flag: UniaxialLaw = {
    kind: 'superelastic',
    loadingPlateau: 430,
    unloadingPlateau: 220,
    transformationStrain: 0.05,
  };
  const law = fibreLaw(flag, 50_000);
  const slope = 1e-4 * 50_000;

  it('draw the flag: up, along, up; down, along, down', () => {
    const points: [number, number][] = [
      [0.004, 200],
      [0.03, 430],
      [0.06, 430 + (0.06 - 0.05 - 430 / 50_000) * 50_000],
      [0.03, 220],
      [0.004, 200],
      [0, 0],
    ];
    const way: number[] = [];
    for (const [strain, stress] of points) {
      way.push(strain);
      expect(Math.abs(strained(law, way).stress - stress)).toBeLessThan(slope * 0.06 + 1e-9);
    }
    expect(strained(law, way).history).toBe(0);
  });

  it('do the same in compression, also straight from the plateau in tension', () => {
    expect(strained(law, [-0.03]).stress).toBeCloseTo(-strained(law, [0.03]).stress, 9);
    expect(strained(law, [0.03, -0.03]).stress).toBeCloseTo(strained(law, [-0.03]).stress, 9);
    expect(strained(law, [-0.03, 0.0]).history).toBe(0);
  });
});

function strained(law: ReturnType<typeof fibreLaw>, way: readonly number[]) {
  let history = 0;
  let stress = 0;
  for (const strain of way) {
    stress = fibreStressAt(law, strain, history);
    history = newHistory(law, strain, history);
  }
  return { stress, history };
}

function bent(section: FibreSection, up: number, side: number, history = new Float64Array(historySize(section))) {
  const answer = sectionAnswer();
  bend(section, history, 0, up, side, answer);
  return answer;
}

/** Moment over that of first yield at κ = κ_y / eta, and the share of curvature left without moment. */
function bendAndRelease(fibres: FibreSection, section: Section, eta: number) {
  const { thickness, modulusSide, height } = sectionProperties(section);
  expect(thickness).toBeLessThanOrEqual(height);
  const curvature = (2 * Y) / (E * height) / eta;
  const history = new Float64Array(historySize(fibres));
  const moment = bent(fibres, 0, curvature).momentSide;
  commit(fibres, history, 0, 0, 0, curvature);
  let left = curvature;
  for (let k = 0; k < 50; k++) {
    const answer = bent(fibres, 0, left, history);
    left -= answer.momentSide / answer.sideSide;
  }
  return { moment: moment / (Y * modulusSide), left: left / curvature };
}
