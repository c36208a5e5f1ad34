/** What must hold of any wire, whatever its numbers: mirror images, rigid motion, direction of writing, balance. */
import { describe, expect, test } from 'vitest';
import type { Vec3 } from '#core/math/vector';
import { apply, applyTransposed, type Matrix, multiply, rotation } from '../oracle/rotation';
import { imbalance } from './balance';
import { runSpring, stageOf } from './run-spring';

const alloy = 'alloy test_titanium { modulus = 66 GPa poisson = 0.33 yield = 900 MPa inner_radius = 1.5 }';

const bends = [
  'straight 4 mm',
  'preactivate 25 deg toward gingival radius 1 mm',
  'preactivate 12 deg toward lingual radius 1 mm',
  'straight 3 mm',
  'preactivate 15 deg toward gingival radius 1 mm',
  'bend 90 deg toward gingival radius 1 mm',
  'straight 5 mm',
  'bend 180 deg toward mesial radius 1.2 mm',
  'straight 5 mm',
  'bend 90 deg toward mesial radius 1 mm',
  'straight 2 mm',
  'bend 10 deg toward buccal radius 1 mm',
  'bend 10 deg toward lingual radius 1 mm',
  'straight 4 mm',
];

interface Poses {
  readonly molar?: string;
  readonly canine?: string;
}

/** A loop in space: off-centre V bend, anti-rotation bend, one gable, an offset toward buccal. */
function text(steps: readonly string[], direction = 'mesial', poses: Poses = {}, activation = true): string {
  const [first, last] = direction === 'mesial' ? ['molar', 'canine'] : ['canine', 'molar'];
  return `${alloy}
appliance spring {
  wire 0.017 in x 0.025 in of test_titanium
  path running ${direction} {
    straight 6 mm
    seat ${first}
    ${steps.join('\n    ')}
    seat ${last}
    straight 6 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm${poses.molar ?? ''}
  bracket canine slot 0.022 in x 0.028 in, width 3 mm${poses.canine ?? ''}
  ${activation ? 'activation pull through molar 0 mm .. 2 mm step 1 mm' : ''}
}`;
}

interface Wrenches {
  readonly molar: { force: Vec3; moment: Vec3 };
  readonly canine: { force: Vec3; moment: Vec3 };
}

function solved(source: string, stage: number): Wrenches {
  const run = runSpring(source);
  const { wrenches } = stageOf(run, stage);
  const of = (name: string) => wrenches[run.design.attachments.findIndex((one) => one.name === name)];
  return { molar: of('molar'), canine: of('canine') };
}

/** Strict mesh, strict stop: only rounding and the stop at 1e-9 are left, and mirrored meshes are the same. */
function expectSame(a: Wrenches, b: Wrenches, tolerance = 1e-7): void {
  for (const name of ['molar', 'canine'] as const) {
    for (const kind of ['force', 'moment'] as const) {
      const scale = Math.hypot(...a[name][kind]);
      for (let k = 0; k < 3; k++) {
        expect(Math.abs(a[name][kind][k] - b[name][kind][k]) / scale, `${name} ${kind} ${k}`).toBeLessThan(tolerance);
      }
    }
  }
}

/** Forces mirror as vectors, moments as axial vectors. */
function mirrored({ molar, canine }: Wrenches, axis: number): Wrenches {
  const one = ({ force, moment }: { force: Vec3; moment: Vec3 }) => ({
    force: force.map((value, k) => (k === axis ? -value : value)) as unknown as Vec3,
    moment: moment.map((value, k) => (k === axis ? value : -value)) as unknown as Vec3,
  });
  return { molar: one(molar), canine: one(canine) };
}

function swap(steps: readonly string[], a: string, b: string): string[] {
  return steps.map((step) => step.replace(new RegExp(`${a}|${b}`, 'g'), (word) => (word === a ? b : a)));
}

describe('invariants of results from text', () => {
  test('toward buccal and toward lingual exchanged: the mirror image', () => {
    for (const stage of [0, 2]) {
      expectSame(solved(text(swap(bends, 'buccal', 'lingual')), stage), mirrored(solved(text(bends), stage), 2));
    }
  });

  test('gingival and occlusal exchanged: the mirror image', () => {
    expectSame(solved(text(swap(bends, 'gingival', 'occlusal')), 2), mirrored(solved(text(bends), 2), 1));
  });

  test('mesial and distal exchanged: the mirror image', () => {
    const source = text(swap(bends, 'mesial', 'distal'), 'distal').replaceAll(/molar|canine/g, (word) =>
      word === 'molar' ? 'canine' : 'molar',
    );
    // The wire now starts at the canine, which stands where the molar stood: names exchanged, lengths kept.
    const renamed = source
      .replace('tube canine', 'tube #')
      .replace('bracket molar', 'bracket canine')
      .replace('tube #', 'tube molar')
      .replace('through canine', 'through molar')
      .replace('seat molar', 'seat #')
      .replace('seat canine', 'seat canine')
      .replace('seat #', 'seat molar');
    expectSame(solved(renamed, 2), mirrored(solved(text(bends), 2), 0));
  });

  test('the wire written from its other end: the same', () => {
    // Read backwards, a bend turns from the opposite of its outgoing direction to the opposite of its incoming one.
    const backwards = [
      'straight 4 mm',
      'bend 10 deg toward lingual radius 1 mm',
      'bend 10 deg toward buccal radius 1 mm',
      'straight 2 mm',
      'bend 90 deg toward gingival radius 1 mm',
      'straight 5 mm',
      'bend 180 deg toward distal radius 1.2 mm',
      'straight 5 mm',
      'bend 90 deg toward distal radius 1 mm',
      'preactivate 15 deg toward gingival radius 1 mm',
      'straight 3 mm',
      'preactivate 12 deg toward lingual radius 1 mm',
      'preactivate 25 deg toward gingival radius 1 mm',
      'straight 4 mm',
    ];
    // The steps of the integration fall elsewhere; the strict mesh is good to 2e-4 (mechanics note).
    expectSame(solved(text(bends), 2), solved(text(backwards, 'distal'), 2), 2e-4);
  });

  test('both attachments moved and turned together: the same, turned along', () => {
    const radian = Math.PI / 180;
    const turn = [
      [0, 0, 18],
      [0, -12, 0],
      [25, 0, 0],
    ]
      .map((angles) => rotation(angles.map((angle) => angle * radian)))
      .reduce((product: Matrix, one) => multiply(product, one), [1, 0, 0, 0, 1, 0, 0, 0, 1]);
    const source = text(bends, 'mesial', {}, false);
    const { design } = runSpring(source);
    const offset = apply(turn, design.attachments[1].seatedWire.position);
    const angles = ', tip 18 deg, rotation -12 deg, torque 25 deg';
    const place = (mm: readonly number[]) => ` at ${mm[0]} mm mesial ${mm[1]} mm gingival ${mm[2]} mm buccal`;
    const moved = text(bends, 'mesial', { molar: angles, canine: `,${place(offset)}${angles}` }, false);
    const back = (v: Vec3) => applyTransposed(turn, v) as unknown as Vec3;
    const turned = solved(moved, 0);
    const unturned: Wrenches = {
      molar: { force: back(turned.molar.force), moment: back(turned.molar.moment) },
      canine: { force: back(turned.canine.force), moment: back(turned.canine.moment) },
    };
    expectSame(solved(source, 0), unturned);
  });

  test('reactions balance to 1e-9 at the strict setting, each end from its own section', () => {
    const run = runSpring(text(bends));
    for (let stage = 0; stage < 3; stage++) {
      const state = stageOf(run, stage);
      const { force, moment } = imbalance(run.design, state);
      expect(force).toBeLessThan(1e-9);
      expect(moment).toBeLessThan(1e-9);
      expect(state.residual.force / Math.hypot(...state.wrenches[0].force)).toBeLessThan(1e-9);
      expect(state.residual.moment / Math.hypot(...state.wrenches[0].moment)).toBeLessThan(1e-9);
    }
  });
});
