/**
 * Whole shapes in space from text, against the second method: a bar across the palate between two tubes that are placed by
 * `at`, and a loop with stacked coils.
 */
import { describe, expect, test } from 'vitest';
import { resolveText } from '../model/resolve-text';
import { oracleWrenches } from '../oracle/discrete-rod';
import { applianceOf, runSpring, stageOf } from './run-spring';

/** A bar 40 mm across with a loop in its middle; the left tube stands as written. */
const bar = (left: string) => `use "alloys"
appliance bar {
  wire round 0.9 mm of steel
  path running mesial {
    straight 2 mm
    seat right
    straight 3 mm
    bend 90 deg toward lingual radius 3 mm
    straight 12 mm
    bend 90 deg toward distal radius 2.5 mm
    straight 3 mm
    bend 180 deg toward lingual radius 2.5 mm
    straight 3 mm
    bend 90 deg toward lingual radius 2.5 mm
    straight 12 mm
    bend 90 deg toward distal radius 3 mm
    straight 3 mm
    seat left
    straight 2 mm
  }
  tube right length 3 mm
  tube left length 3 mm, ${left}
}`;

/** Where the bar lies free: 12 + 12 mm, two corners of 3 mm and two small bends and a half circle of 2.5 mm. */
const across = 12 + 12 + 2 * 3 + 4 * 2.5;

function compare(text: string, tolerance: number): void {
  const { design } = applianceOf(text);
  const { wrenches } = stageOf(runSpring(text), 0);
  const expected = oracleWrenches(design!, 0)!;
  for (const kind of ['force', 'moment'] as const) {
    const largest = Math.max(...expected.map((wrench) => Math.hypot(...wrench[kind])));
    for (const [k, wrench] of wrenches.entries()) {
      for (const axis of [0, 1, 2]) {
        const miss = Math.abs(wrench[kind][axis] - expected[k][kind][axis]) / largest;
        expect(miss, `${kind} ${axis} at ${k}: ${wrench[kind][axis]}, ${expected[k][kind][axis]}`).toBeLessThan(
          tolerance,
        );
      }
    }
  }
}

describe('a bar across the palate', () => {
  test('is written without a finding', () => {
    expect(resolveText(bar(`at ${across} mm lingual rotation 180 deg`)).problems).toEqual([]);
  });

  test('is free of force where its tubes stand as it lies', () => {
    const { wrenches } = stageOf(runSpring(bar(`at ${across} mm lingual rotation 180 deg`)), 0);
    for (const { force, moment } of wrenches) expect(Math.hypot(...force, ...moment)).toBeLessThan(1e-6);
  });

  test('widened by 1 mm, turned and with one tube higher agrees with the second method', () => {
    compare(bar(`at ${across + 1} mm lingual rotation 180 deg`), 1e-3);
    compare(bar(`at ${across} mm lingual rotation 172 deg`), 1e-3);
    compare(bar(`at ${across - 1} mm lingual 0.7 mm gingival rotation 174 deg tip 4 deg torque 5 deg`), 1e-3);
  });
});

test('a closing loop with stacked coils agrees with the second method', () => {
  for (const turns of [1, 2]) {
    compare(
      `use "alloys"
use "loops"
appliance coiled {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 3 mm
    seat molar
    straight 4 mm
    open_helix_loop(height = 8 mm, diameter = 2.5 mm, turns = ${turns})
    straight 4 mm
    seat canine
    straight 3 mm
  }
  bracket molar width 3 mm
  bracket canine width 3 mm, moved 1 mm mesial 0.3 mm gingival
}`,
      1e-3,
    );
  }
});
