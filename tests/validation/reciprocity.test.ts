/** What follows from the wire having an energy: reciprocity between all movements of both ends, and no memory where nothing yields. */
import { describe, expect, test } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceDesign } from '#core/design';
import type { Mat3, Vec3 } from '#core/math/vector';
import { add, cross, multiply, rotation } from '../oracle/rotation';
import { designOf, runSpring, stageOf } from './run-spring';

const alloy = 'alloy test_titanium { modulus = 66 GPa poisson = 0.33 yield = 5 GPa inner_radius = 1.5 }';

function text(gable: number, activation: string): string {
  return `${alloy}
appliance spring {
  wire 0.017 in x 0.025 in of test_titanium
  path running mesial {
    straight 10 mm
    seat molar
    straight 4 mm
    ${gable > 0 ? `preactivate ${gable} deg toward gingival radius 1 mm preactivate 12 deg toward lingual radius 1 mm` : ''}
    straight 3 mm
    bend 90 deg toward gingival radius 1 mm
    straight 5 mm
    bend 180 deg toward mesial radius 1.2 mm
    straight 5 mm
    bend 90 deg toward mesial radius 1 mm
    straight 2 mm
    bend 25 deg toward buccal radius 2 mm
    bend 25 deg toward mesial radius 2 mm
    straight 4 mm
    seat canine
    straight 6 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  ${activation}
}`;
}

describe('linear range', () => {
  // 1e-4 mm and rad: quadratic terms, a few 1e-4 of it, fall out of the central difference.
  const step = 1e-4;
  const design = designOf(text(0, ''));
  const places = design.attachments.map(({ seatedWire }) => seatedWire.position);
  const stiffness = Array.from({ length: 12 }, (_, movement) => {
    const [up, down] = [step, -step].map((amount) => reactions(moved(design, movement, amount)));
    return up.map((value, k) => (value - down[k]) / (2 * step));
  });
  // Displacements in mm, turns as the mm they make 5 mm away, so that all terms are N/mm.
  const arm = 5;
  const scaled = stiffness.map((row, i) => row.map((value, j) => (value / length(i)) * (1 / length(j))));

  function length(movement: number): number {
    return movement % 6 < 3 ? 1 : arm;
  }

  test('the stiffness between all twelve movements of both attachments is symmetric (Maxwell and Betti)', () => {
    const largest = Math.max(...scaled.flat().map(Math.abs));
    for (let i = 0; i < 12; i++) {
      // Strict mesh: the two ends differ by its error of 2e-4 (mechanics note).
      for (let j = 0; j < i; j++) expect(Math.abs(scaled[i][j] - scaled[j][i])).toBeLessThan(2e-4 * largest);
    }
  });

  test('moving and turning both attachments together takes no force', () => {
    for (const axis of [0, 1, 2]) {
      const unit = [0, 1, 2].map((k) => (k === axis ? 1 : 0));
      const turned = places.flatMap((place) => [...cross(unit, place), ...unit]);
      const shifted = places.flatMap(() => [...unit, 0, 0, 0]);
      for (const together of [turned, shifted]) {
        for (let j = 0; j < 12; j++) {
          const terms = together.map((amount, i) => amount * stiffness[i][j]);
          const size = Math.max(...stiffness.map((row, i) => Math.abs(row[j] * together[i])), 1e-9);
          expect(Math.abs(terms.reduce((sum, term) => sum + term, 0))).toBeLessThan(1e-4 * size);
        }
      }
    }
  });
});

describe('large deflections', () => {
  const range = 'activation pull through molar 0 mm .. 2 mm step 1 mm';

  test('where nothing yields the wire has no memory: there and back gives the same', () => {
    const written = designOf(text(30, range));
    const run = analyseAppliance(
      { ...written, activation: { ...written.activation!, stages: [0, 1, 2, 1, 0] } },
      { mesh: 'strict' },
    );
    for (const [there, back] of [
      [1, 3],
      [0, 4],
    ]) {
      const [a, b] = [there, back].map((k) => run.stages[k].state!.wrenches[0]);
      for (const kind of ['force', 'moment'] as const) {
        const largest = Math.max(...run.stages.flatMap(({ state }) => state!.wrenches[0][kind].map(Math.abs)));
        // The strict stop: 1e-9.
        for (let k = 0; k < 3; k++) expect(Math.abs(a[kind][k] - b[kind][k])).toBeLessThan(1e-8 * largest);
      }
    }
  });

  test('wire drawn through the tube is the same wire seated further along it', () => {
    const run = runSpring(text(30, range));
    for (const stage of [0, 2]) {
      const state = stageOf(run, stage);
      const { attachments } = run.design;
      const further: ApplianceDesign = {
        ...run.design,
        attachments: [{ ...attachments[0], station: attachments[0].station + state.motion }, attachments[1]],
        activation: undefined,
      };
      const other = analyseAppliance(further, { mesh: 'strict' }).stages[0].state!;
      for (const [i, wrench] of state.wrenches.entries()) {
        for (const kind of ['force', 'moment'] as const) {
          const largest = Math.max(...other.wrenches[i][kind].map(Math.abs), 0.1);
          // The steps of the integration fall elsewhere: the strict mesh's 2e-4.
          for (let k = 0; k < 3; k++) {
            expect(Math.abs(wrench[kind][k] - other.wrenches[i][kind][k])).toBeLessThan(2e-4 * largest);
          }
        }
      }
    }
  });
});

/** One of the twelve movements: of either attachment along or about x, y or z. */
function moved(design: ApplianceDesign, movement: number, amount: number): ApplianceDesign {
  const vector = [0, 1, 2].map((k) => (k === movement % 3 ? amount : 0));
  const turns = movement % 6 >= 3;
  const attachments = design.attachments.map((attachment, i) => {
    if (i !== Math.floor(movement / 6)) return attachment;
    const { position, axes } = attachment.seatedWire;
    return {
      ...attachment,
      seatedWire: turns
        ? { position, axes: multiply(rotation(vector), axes) as unknown as Mat3 }
        : { position: add(position, vector) as unknown as Vec3, axes },
    };
  });
  return { ...design, attachments };
}

/** What the attachments must exert for it: six numbers each, in the outer frame (results are reported in it here). */
function reactions(design: ApplianceDesign): number[] {
  const { stages, failure } = analyseAppliance(design, { mesh: 'strict' });
  const state = stages[0]?.state;
  if (!state) throw new Error(JSON.stringify(failure ?? stages[0]?.failure));
  return state.wrenches.flatMap(({ force, moment }) => [...force, ...moment].map((value) => -value));
}
