/** What is read off between stages against what is solved there. */
import { expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import type { EngagedState } from '#core/analysis/analysis';
import { stateBetween } from '#core/analysis/between-stages';
import { pointAt } from '#drawing/dimensions';
import { resolveAppliance } from '../model/resolve-text';

const loop = (step: string) => `use "alloys"
use "loops"
appliance closing {
  wire 0.016 in x 0.022 in of steel stress relieved
  path running mesial {
    straight 6 mm
    seat molar
    straight 4 mm
    preactivate 15 deg toward gingival
    open_loop(height = 8 mm, width = 2 mm) as loop
    preactivate 15 deg toward gingival
    straight 4 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 1 mm step ${step}
}
`;

const statesOf = (step: string, extra: readonly number[] = []) =>
  analyseAppliance(resolveAppliance(loop(step)).design!, { extraActivations: extra }).stages.map(
    ({ state }) => state as EngagedState,
  );

/** Largest differences of force, moment and place. */
function apart(step: string): { force: number; moment: number; place: number } {
  const at = 0.37;
  const states = statesOf(step, [at]);
  const solved = states[states.length - 1];
  const read = stateBetween(states.slice(0, -1), at)!;
  const most = (a: readonly number[], b: readonly number[]) => Math.max(...a.map((x, k) => Math.abs(x - b[k])));
  return {
    force: Math.max(...read.wrenches.map(({ force }, k) => most(force, solved.wrenches[k].force))),
    moment: Math.max(...read.wrenches.map(({ moment }, k) => most(moment, solved.wrenches[k].moment))),
    place: Math.max(
      ...read.outline.stations.map((station, k) =>
        Math.hypot(...pointAt(solved.outline, station).map((x, axis) => x - read.outline.points[3 * k + axis])),
      ),
    ),
  };
}

it('is within a thousandth of the largest, and comes closer with the fourth power of the step', () => {
  const [coarse, fine] = [apart('0.25 mm'), apart('0.125 mm')];
  const largest = statesOf('0.25 mm').at(-1)!.wrenches[0];
  expect(coarse.force).toBeLessThan(1e-3 * Math.hypot(...largest.force));
  expect(coarse.moment).toBeLessThan(1e-3 * Math.hypot(...largest.moment));
  // Points up to half a millimetre apart round bends of 1 mm: chord from arc, (0.5 mm)² / 8 mm.
  expect(coarse.place).toBeLessThan(0.04);
  expect(coarse.force / fine.force).toBeGreaterThan(4);
});

it('is the stage itself at a stage, and nothing outside them', () => {
  const states = statesOf('0.25 mm');
  expect(stateBetween(states, 0.5)!.wrenches[0].force[0]).toBeCloseTo(states[2].wrenches[0].force[0], 12);
  expect(stateBetween(states, 1.2)).toBeUndefined();
  expect(stateBetween(states, -0.1)).toBeUndefined();
});
