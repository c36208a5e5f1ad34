/** Helices against the textbook curve x = R cos t, y = R sin t, z = p t / 2π, and what coils do to the contact check. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { Pose, WireElement } from '#core/design';
import { helixElements } from '#core/geometry/helix';
import { advance } from '#core/geometry/pose';
import { column, cross, dot, identityMatrix, norm, scale, subtract, type Vec3 } from '#core/math/vector';
import { designOf } from '../validation/run-spring';

const start: Pose = { position: [0, 0, 0], axes: identityMatrix };
/** Winding toward gingival in a wire that runs mesially. */
const buccal: Vec3 = [0, 0, 1];

function along(elements: readonly WireElement[]): Pose[] {
  const poses = [start];
  for (const { shape, length } of elements) poses.push(advance(poses.at(-1)!, shape, length));
  return poses;
}

const end = (elements: readonly WireElement[]): Pose => along(elements).at(-1)!;

function expectClose(obtained: readonly number[], expected: readonly number[]): void {
  for (const [k, value] of expected.entries()) expect(obtained[k]).toBeCloseTo(value, 9);
}

describe('a helix', () => {
  it('C56: uses turns × √((π D)² + p²) of wire (handbook 3.9)', () => {
    const [coil, ...others] = helixElements(buccal, { diameter: 3, turns: 2, pitch: 0.4064 });
    expect(others).toEqual([]);
    expect(Math.abs(coil.length / 18.867 - 1)).toBeLessThan(1e-4);
  });

  it('is the textbook curve: constant distance from its axis, and a pitch a turn along it', () => {
    const helix = { diameter: 3, turns: 2.25, pitch: 0.8 };
    const elements = helixElements(buccal, helix);
    const coil = elements.find(({ length }) => length > 0)!;
    const from = along(elements)[elements.indexOf(coil)];
    const spin = scale(coil.shape, 1 / norm(coil.shape));
    const axis: Vec3 = [0, 1, 2].map((row) =>
      dot([from.axes[3 * row], from.axes[3 * row + 1], from.axes[3 * row + 2]], spin),
    ) as unknown as Vec3;
    // A point of the axis: a radius from the start, square to tangent and axis.
    const inward = cross(axis, column(from.axes, 0));
    const centre = scale(inward, 1.5 / norm(inward));
    for (let part = 0; part <= 1; part += 1 / 16) {
      const { position } = advance(from, scale(coil.shape, part), coil.length * part);
      const arm = subtract(position, centre);
      const height = dot(arm, axis);
      expect(norm(subtract(arm, scale(axis, height)))).toBeCloseTo(1.5, 9);
      expect(height - dot(subtract(from.position, centre), axis)).toBeCloseTo(part * helix.turns * helix.pitch, 9);
    }
  });

  it('enters and leaves whole turns in its own line, moved aside by turns × pitch', () => {
    for (const turns of [1, 2, 3, 7]) {
      const pitch = 0.635;
      const elements = helixElements(buccal, { diameter: 3, turns, pitch });
      expect(elements).toHaveLength(1);
      const { position, axes } = end(elements);
      expectClose(axes, identityMatrix);
      expect(norm(position)).toBeCloseTo(turns * pitch, 9);
      const slope = Math.atan(pitch / (Math.PI * 3));
      expect(position[2]).toBeCloseTo(turns * pitch * Math.cos(slope), 9);
    }
  });

  it('leaves other turns in a plane parallel to that of its entry', () => {
    for (const turns of [0.25, 0.5, 1.25, 1.5, 1.7, 2.5]) {
      for (const pitch of [0.5, -0.5]) {
        const elements = helixElements(buccal, { diameter: 3, turns, pitch });
        const { position, axes } = end(elements);
        const angle = 2 * Math.PI * turns;
        const turned = [Math.cos(angle), -Math.sin(angle), 0, Math.sin(angle), Math.cos(angle), 0, 0, 0, 1];
        expectClose(axes, turned);
        // The axis leans in the plane of entry's tangent and buccal.
        const slope = Math.atan(pitch / (Math.PI * 3));
        const lean = (slope * (1 + Math.cos(angle))) / 2;
        expect(position[2]).toBeCloseTo(turns * pitch * Math.cos(lean) - 1.5 * Math.sin(lean) * Math.sin(angle), 9);
        // The arms meet the coil under little more than its slope.
        for (const { length, shape } of elements)
          if (length === 0) expect(norm(shape)).toBeLessThan(1.2 * Math.abs(slope));
      }
    }
  });

  it('lies in one plane without pitch: a circle, n times over', () => {
    const { position, axes } = end(helixElements(buccal, { diameter: 3, turns: 1.5, pitch: 0 }));
    expectClose(position, [0, 3, 0]);
    expect(axes[0]).toBeCloseTo(-1, 9);
  });
});

describe('coils', () => {
  const contacts = (steps: string, wire: string) =>
    analyseAppliance(
      designOf(`use "alloys"
appliance coiled {
  wire ${wire} of steel
  path running mesial { seat molar straight 8 mm ${steps} straight 8 mm seat canine }
  bracket molar bracket canine
}`),
    ).contacts;

  it('that lie beside each other do not count as touching, nor do their arms', () => {
    for (const wire of ['round 0.016 in', '0.016 in x 0.022 in', '0.016 in x 0.022 in ribbonwise']) {
      for (const turns of ['1', '1.25', '1.5', '1.75', '2', '2.5', '3']) {
        for (const diameter of ['2 mm', '3 mm', '4 mm']) {
          const found = contacts(`helix ${turns} turns diameter ${diameter} toward gingival`, wire);
          expect(found, `${wire}, ${turns} turns, ${diameter}`).toEqual({ nominal: [], neutral: [] });
        }
      }
    }
  });

  it('that are laid into one plane do', () => {
    const { nominal } = contacts('helix 2 turns diameter 3 mm toward gingival pitch 0 mm', '0.016 in x 0.022 in');
    expect(nominal.length).toBeGreaterThan(0);
  });

  it('do where something else comes back to them', () => {
    // Back down through the middle of the coil's side.
    const back = `helix 2 turns diameter 3 mm toward gingival straight 2 mm bend 180 deg toward gingival radius 0.75 mm
      straight 8 mm bend 180 deg toward occlusal radius 3 mm`;
    expect(contacts(back, 'round 0.016 in').nominal.length).toBeGreaterThan(0);
  });
});
