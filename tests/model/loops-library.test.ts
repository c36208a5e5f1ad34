/** The bundled loops: each has the sizes it is asked for, comes back to its line and plane, and lies free of itself. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { centreline } from '#core/geometry/centreline';
import { freeOutline } from '#core/geometry/outline';
import { format } from '#grammar/printer';
import { library } from '#library';
import { resolveAppliance, resolveText } from './resolve-text';

interface Expected {
  /** From the arms to the highest point of the centre line. */
  readonly height: number;
  /** Second foot less first, where the loop has feet. */
  readonly gap?: number;
  /** Length of wire from the loop's start to its end. */
  readonly length?: number;
}

const arc = (radius: number, degrees: number) => (radius * degrees * Math.PI) / 180;
const rb = 0.6096; // 1.5 times 0.4064 mm: the usual radius of steel (handbook 8)
const sin25 = Math.sin(Math.PI / 7.2);
const cos25 = Math.cos(Math.PI / 7.2);
const sin20 = Math.sin(Math.PI / 9);
const cos20 = Math.cos(Math.PI / 9);
const planar = 'pitch = 0 mm, base_radius = 0 mm';
/** Of closed loops from below: the lengths of their legs, of height 8 mm and 7 mm, and what a step back adds. */
const closedDelta = (8 - rb * (1 - sin25) - (1 + sin25)) / cos25;
const closedOmega = (7 - rb * (1 - sin20) - 2 * (1 + sin20)) / cos20;
const thick = 0.5588; // the wire's width, by which crossing legs stand beside each other
/** Legs of the T and the L stand upright and lean by the wire's width; the step back is as long. */
const slanted = (leg: number) => Math.hypot(leg, thick) + thick;

const cases: readonly [string, Expected][] = [
  ['open_loop(height = 6 mm, width = 2 mm)', { height: 6, gap: 2, length: 2 * arc(rb, 90) + 2 * (5 - rb) + Math.PI }],
  ['closed_loop(height = 6 mm, width = 2 mm)', { height: 6, gap: -2 }],
  ['t_loop(height = 8 mm, width = 9 mm, gap = 2 mm)', { height: 8, gap: 2 }],
  ['open_helix_loop(height = 8 mm, diameter = 2.5 mm, turns = 2)', { height: 8, gap: 2.5 }],
  [
    'open_helix_loop(height = 8 mm, diameter = 2 mm, pitch = 0 mm, base_radius = 0 mm)',
    { height: 8, gap: 2, length: 14 + 3 * Math.PI },
  ],
  ['closed_helix_loop(height = 8 mm, diameter = 2.5 mm, turns = 2)', { height: 8, gap: -2.5 }],
  ['double_open_loop(height = 6 mm, width = 2 mm, apart = 3 mm)', { height: 6 }],
  [
    'l_loop(height = 8 mm, reach = 7 mm, gap = 1.5 mm)',
    {
      height: 8,
      gap: 1.5,
      length: 4 * arc(rb, 90) + Math.PI + (8 - 2 * rb) + (7 - rb - 1) + (7 - 1.5 - rb - 1) + (6 - 2 * rb),
    },
  ],
  [
    'delta_loop(height = 8 mm, gap = 1.5 mm, lean = 25 deg)',
    {
      height: 8,
      gap: 1.5,
      length: 2 * arc(rb + 1, 115) + 2 * ((8 - (rb + 1) * (1 + sin25)) / cos25) * (1 + sin25) + 1.5 - 2 * cos25,
    },
  ],
  ['omega_loop(height = 7 mm, width = 4 mm, lean = 20 deg)', { height: 7 }],
  [
    'closed_t_loop(height = 8 mm, width = 9 mm, gap = 2 mm)',
    {
      height: 8,
      gap: -2,
      length: 4 * arc(rb, 90) + 2 * Math.PI + slanted(6 - 2 * rb) + (6 - 2 * rb) + 2 * (3.5 - 1 - rb) + 7,
    },
  ],
  ['closed_t_loop(height = 8 mm, width = 9 mm, gap = 2 mm, turns = 1)', { height: 8, gap: -2 }],
  [
    `closed_t_loop(height = 8 mm, width = 9 mm, gap = 2 mm, turns = 2, leg_radius = 0 mm, beside = 0 mm, ${planar})`,
    { height: 8, gap: -2, length: 2 * 6 + 2 * 2.5 + 7 + 10 * Math.PI },
  ],
  ['t_helix_loop(height = 8 mm, width = 9 mm, gap = 2 mm)', { height: 8, gap: 2 }],
  [
    `t_helix_loop(height = 8 mm, width = 9 mm, gap = 2 mm, turns = 2, leg_radius = 0 mm, ${planar})`,
    { height: 8, gap: 2, length: 2 * 6 + 2 * 2.5 + 7 + 10 * Math.PI },
  ],
  [
    'closed_l_loop(height = 8 mm, reach = 7 mm, gap = 1.5 mm)',
    {
      height: 8,
      gap: -1.5,
      length: 4 * arc(rb, 90) + Math.PI + slanted(8 - 2 * rb) + (7 - rb - 1) + (7 - 1.5 - rb - 1) + (6 - 2 * rb),
    },
  ],
  ['closed_l_loop(height = 8 mm, reach = 7 mm, gap = 1.5 mm, turns = 2)', { height: 8, gap: -1.5 }],
  ['l_helix_loop(height = 8 mm, reach = 7 mm, gap = 1.5 mm)', { height: 8, gap: 1.5 }],
  [
    `l_helix_loop(height = 8 mm, reach = 7 mm, gap = 1.5 mm, turns = 2, leg_radius = 0 mm, ${planar})`,
    { height: 8, gap: 1.5, length: 8 + 6 + 6 + 4.5 + 5 * Math.PI },
  ],
  [
    'closed_delta_loop(height = 8 mm, gap = 1.5 mm, lean = 25 deg)',
    {
      height: 8,
      gap: -1.5,
      length:
        2 * arc(rb, 65) + 2 * arc(1, 115) + slanted(closedDelta) + closedDelta * (1 + 2 * sin25) + (1.5 - 2 * cos25),
    },
  ],
  ['closed_delta_loop(height = 8 mm, gap = 1.5 mm, turns = 1)', { height: 8, gap: -1.5 }],
  ['delta_helix_loop(height = 8 mm, gap = 1.5 mm, lean = 25 deg)', { height: 8, gap: 1.5 }],
  [
    `delta_helix_loop(height = 8 mm, gap = 1.5 mm, lean = 25 deg, turns = 2, ${planar})`,
    {
      height: 8,
      gap: 1.5,
      length: 2 * arc(1, 115) + 4 * Math.PI + 2 * ((8 - (1 + sin25)) / cos25) * (1 + sin25) + 1.5 - 2 * cos25,
    },
  ],
  [
    'closed_omega_loop(height = 7 mm, width = 4 mm, lean = 20 deg)',
    {
      height: 7,
      gap: 2 * (closedOmega * sin20 - 2 * cos20),
      length: 2 * arc(rb, 70) + arc(2, 220) + slanted(closedOmega) + closedOmega,
    },
  ],
  ['closed_omega_loop(height = 7 mm, width = 4 mm, lean = 20 deg, turns = 1)', { height: 7 }],
  ['omega_helix_loop(height = 7 mm, width = 4 mm, lean = 20 deg)', { height: 7 }],
  [
    `omega_helix_loop(height = 7 mm, width = 4 mm, lean = 20 deg, turns = 2, ${planar})`,
    {
      height: 7,
      gap: 2 * (2 * cos20 - ((7 - 2 * (1 + sin20)) / cos20) * sin20),
      length: arc(2, 720 + 220) + 2 * ((7 - 2 * (1 + sin20)) / cos20),
    },
  ],
  ['ring(diameter = 2.5 mm)', { height: 2.5 }],
];

const wireUp = (call: string, wire = '0.016 in x 0.022 in of steel') => `use "alloys"
use "loops"
appliance in_line {
  wire ${wire}
  path running mesial { straight 5 mm seat molar straight 5 mm ${call} straight 5 mm seat canine straight 5 mm }
  bracket molar width 3 mm
  bracket canine width 3 mm
}`;

describe('bundled loops', () => {
  it('are written as the formatter lays them out', () => {
    expect(format(library.get('loops')!)).toBe(library.get('loops'));
  });

  it.each(cases)('%s has its sizes and comes back to its line and plane', (call, { height, gap, length }) => {
    for (const placed of [call, `mirror ${call}`]) {
      const { design } = resolveAppliance(wireUp(placed));
      const { elements, start, loops, attachments } = design!;
      const line = centreline(elements, start, 0);
      const end = line.poses.at(-1)!;
      const { position } = end;
      expect(position[1]).toBeCloseTo(0, 9);
      expect(position[2]).toBeCloseTo(0, 9);
      expect(end.axes[0]).toBeCloseTo(1, 9);
      expect(end.axes[4]).toBeCloseTo(1, 9);
      const { points } = freeOutline(line);
      const top = Math.max(...points.filter((_, k) => k % 3 === 1));
      // The outline has a point every 7.5°: at the top of a round one it may miss by 1 - cos 3.75°.
      expect(Math.abs(top - height)).toBeLessThan(0.0022 * height);
      const { nominalLoops } = analyseAppliance(design!);
      if (gap !== undefined) {
        expect(loops).toHaveLength(1);
        expect(nominalLoops[0].legGap).toBeCloseTo(gap, 9);
      }
      if (length !== undefined) expect(attachments[1].station - attachments[0].station - 10).toBeCloseTo(length, 3);
    }
  });

  it.each(cases.filter(([call]) => !call.includes('pitch = 0 mm')))('%s lies free of itself in usual wires', (call) => {
    for (const wire of [
      '0.016 in x 0.022 in of steel',
      'round 0.018 in of steel',
      '0.017 in x 0.025 in of beta_titanium',
    ]) {
      const { appliances, problems } = resolveText(wireUp(call, wire));
      expect(problems.filter(({ severity }) => severity !== 'information')).toEqual([]);
      const { contacts, nominalLoops } = analyseAppliance(appliances[0].design!);
      // Where the arms of a closed loop pass each other they lie in one line; that is said of it by itself.
      const crossing = nominalLoops.some(({ legGap }) => legGap < 0);
      if (!crossing) expect(contacts.nominal, `${wire} ${call}`).toEqual([]);
    }
  });

  it('give a double loop two loops with legs of their own', () => {
    const { design } = resolveAppliance(wireUp('double_open_loop(height = 6 mm, width = 2 mm, apart = 3 mm)'));
    expect(design!.loops.map(({ name }) => name)).toEqual(['first_loop', 'second_loop']);
  });
});
