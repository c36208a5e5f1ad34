/** The bundled springs: each lies as its comment says. */
import { describe, expect, it } from 'vitest';
import { centreline, poseAt } from '#core/geometry/centreline';
import { column, subtract } from '#core/math/vector';
import { format } from '#grammar/printer';
import { library } from '#library';
import { resolveAppliance } from './resolve-text';

/** Where a part leads, from its start, and in which direction, without and with its preactivation. */
function endOf(call: string, running = 'mesial', site = '') {
  const arch = site !== '';
  const appliance = resolveAppliance(`use "alloys"
use "springs"
appliance a ${site} {
  wire round 0.8 mm of steel
  path running ${running} {
    straight 1 mm
    seat first
    ${call}
    seat second
    straight 1 mm
  }
  tube first ${arch ? 'on tooth 16' : ''}
  tube second ${arch ? 'on tooth 26' : ''}
}`);
  const { elements, start, attachments } = appliance.design!;
  return ([0, 1] as const).map((preactivation) => {
    const line = centreline(elements, start, preactivation);
    const [first, second] = attachments.map(({ station }) => poseAt(line, station));
    return { place: subtract(second.position, first.position), way: column(second.axes, 0) };
  });
}

describe('bundled springs', () => {
  it('is laid out as the formatter lays it out', () => {
    expect(format(library.get('springs')!)).toBe(library.get('springs'));
    expect(format(library.get('teeth')!)).toBe(library.get('teeth'));
  });

  it.each([
    ['gable(angle = 20 deg)', 20],
    ['v_bend(angle = 20 deg, before = 5 mm, behind = 10 mm)', 20],
    ['intrusion_cantilever(tip_back = 30 deg)', 30],
    ['molar_uprighting_spring(tip_back = 40 deg)', 40],
    ['finger_spring(activation_angle = 15 deg)', 15],
    ['step_bend(height = 0.5 mm)', 0],
  ])('%s is straight in place and leaves the plier turned by its angle', (call, degrees) => {
    const [nominal, passive] = endOf(`${call} straight 2 mm`);
    expect(nominal.way[0]).toBeCloseTo(1, 9);
    expect(Math.atan2(passive.way[1], passive.way[0])).toBeCloseTo((degrees * Math.PI) / 180, 9);
  });

  it('steps by the height that it is asked for', () => {
    const [nominal, passive] = endOf('step_bend(height = 0.5 mm) straight 2 mm');
    expect(nominal.place[1]).toBeCloseTo(0, 9);
    expect(passive.place[1]).toBeCloseTo(0.5, 9);
  });

  it('leads a transpalatal bar from sheath to sheath', () => {
    const [{ place, way }] = endOf('transpalatal_bar(width = 36 mm)', 'anterior', 'in upper arch');
    expect(Math.hypot(place[0] - 36, place[1], place[2])).toBeLessThan(1e-9);
    expect(way[2]).toBeCloseTo(-1, 9);
  });

  it('leads an expansion spring from sheath to sheath, aside by no more than its coils', () => {
    const [{ place, way }] = endOf('palatal_expansion_spring(width = 36 mm)', 'posterior', 'in upper arch');
    // Partial turns lean by the coils' slope; they stack 0.8 mm wire by half a turn in all.
    expect(Math.abs(place[0] - 36)).toBeLessThan(0.8);
    expect(Math.abs(place[1])).toBeLessThan(0.8);
    expect(Math.abs(place[2])).toBeLessThan(0.8);
    expect(way[2]).toBeGreaterThan(Math.cos(0.1));
  });

  it('brings a retainer wire back to its line', () => {
    const [{ place, way }] = endOf('retainer_wire(span = 30 mm, width = 5 mm)');
    expect(place[1]).toBeCloseTo(0, 9);
    expect(way[0]).toBeCloseTo(1, 9);
  });
});
