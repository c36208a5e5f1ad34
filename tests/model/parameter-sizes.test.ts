/** Which sizes of the wire a parameter sets: lengths, radii and angles that follow it in proportion. */
import { describe, expect, it } from 'vitest';
import { betaArch } from '#core/geometry/arch-form';
import { parameterSizes } from '#model/parameter-sizes';
import type { ResolvedAppliance } from '#model/resolved';
import { resolveAppliance, resolveText } from './resolve-text';

const text = (parameters: string, path: string) => `use "alloys"
use "loops"
appliance sized {
  wire 0.016 in x 0.022 in of steel
  ${parameters}
  path running mesial {
    straight 4 mm
    seat molar
    ${path}
    straight 4 mm
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
}
`;

/** "arm: length of straight 12 mm, rate 1" by the parameter's name, the size in mm and deg. */
const told = (appliance: ResolvedAppliance): string[] =>
  parameterSizes(appliance).map(({ parameter, kind, step, rate, moves }) => {
    const { from, to, angle = 0, radius = 0 } = step;
    const size = { length: to - from, radius, angle: (angle * 180) / Math.PI, place: moves?.station ?? 0 }[kind];
    return `${parameter}: ${kind} of ${step.kind} ${Number(size.toFixed(6))}, rate ${Number(rate.toFixed(6))}`;
  });
const of = (parameters: string, path: string) => told(resolveAppliance(text(parameters, path)));

describe('a parameter sets', () => {
  it('the length that is written with its name, through names and formulas too', () => {
    expect(of('param arm = 12 mm', 'straight arm')).toEqual(['arm: length of straight 12, rate 1']);
    expect(of('param arm = 12 mm\n let half = (arm - 2 mm) / 2', 'straight half')).toEqual([
      'arm: length of straight 5, rate 0.5',
    ]);
  });

  it('angles and radii of bends', () => {
    expect(of('param rise = 20 deg', 'preactivate rise toward gingival')).toEqual([
      'rise: angle of preactivate 20, rate 1',
    ]);
    expect(
      of('param r = 1.5 mm', 'bend 30 deg toward gingival radius r bend 30 deg toward occlusal radius 2 mm'),
    ).toEqual(['r: radius of bend 1.5, rate 1']);
  });

  it('the leg of a loop by its height, and half the top by its width', () => {
    const loop = 'open_loop(height = height, width = width)';
    const [first] = of('param height = 8 mm', loop.replace('width = width', 'width = 2 mm'));
    expect(first).toMatch(/^height: length of straight [\d.]+, rate 1$/);
    // With both, the leg is also the width's: the height keeps it, the width has the top by itself.
    const both = of('param height = 8 mm\n param width = 2 mm', loop);
    expect(both.filter((one) => one.startsWith('height'))).toHaveLength(2);
    expect(both.filter((one) => one.startsWith('width'))).toEqual(['width: radius of bend 1, rate 0.5']);
  });

  it('what grows with it before what shrinks', () => {
    const shares = of('param share = 0.25', 'straight share * 10 mm straight (1 - share) * 10 mm');
    expect(shares).toEqual(['share: length of straight 2.5, rate 10', 'share: length of straight 7.5, rate -10']);
  });

  it('nothing where it changes how many pieces there are, something curved, or no size of the wire', () => {
    expect(of('param count = 2', 'repeat count { straight 2 mm }')).toEqual([]);
    expect(of('param a = 3 mm', 'straight a * a / 1 mm')).toEqual([]);
    expect(of('param unused = 3 mm', 'straight 4 mm')).toEqual([]);
  });

  it('an angle that is nought as well, about the axis that it gets', () => {
    const [size] = parameterSizes(resolveAppliance(text('param rise = 0 deg', 'preactivate rise toward gingival')));
    expect(size.kind).toBe('angle');
    // Toward gingival out of mesial: about buccal, the section's side.
    expect(size.axis?.map((part) => Math.round(part * 1e9) / 1e9)).toEqual([0, 0, 1]);
  });
});

it("a variant's own values are those that its sizes have", () => {
  const file = `${text('param arm = 12 mm\n param rise = 20 deg', 'preactivate rise toward gingival straight arm')}
variant short of sized { arm = 8 mm }
`;
  const [, short] = resolveText(file).appliances;
  expect(told(short)).toEqual(['arm: length of straight 8, rate 1', 'rise: angle of preactivate 20, rate 1']);
});

describe('of wire that follows an arch form', () => {
  const arch = (parameters: string, form: string) =>
    resolveAppliance(`use "alloys"
use "teeth"
appliance arch in upper arch {
  wire 0.016 in x 0.022 in of steel
  ${parameters}
  path running left {
    follow ${form} from 47 mm right to 47 mm left { seat teeth }
  }
  tube on teeth 16 26 length 4 mm
}
`);

  /** How far a place of the form goes from where the first tooth stands, mm to the left and forward for each mm. */
  const moved = (distance: number, { design }: ResolvedAppliance, wider: number, deeper: number): number[] => {
    const apart = (sense: 1 | -1) => {
      const form = betaArch(58 + sense * wider, 44 + sense * deeper);
      const [a, b] = [form.pointAt(distance), form.pointAt(design!.attachments[0].station - 47)];
      return [a[0] - b[0], a[1] - b[1]];
    };
    const [less, more] = [apart(-1), apart(1)];
    return [0, 1].map((k) => (more[k] - less[k]) / (2 * (wider + deeper)));
  };

  it('the width takes its end outward, and the depth its front forward, as they lie from the first tooth', () => {
    const appliance = arch('param width = 58 mm param depth = 44 mm', 'beta_arch(width = width, depth = depth)');
    const sizes = parameterSizes(appliance);
    expect(sizes.map(({ parameter, kind }) => `${parameter} ${kind}`)).toEqual([
      ...['width place', 'width place'],
      ...['depth place', 'depth place'],
    ]);
    const stations = sizes.map(({ moves }) => moves?.station ?? Number.NaN);
    for (const [k, station] of [94, 47, 47, 94].entries()) expect(stations[k]).toBeCloseTo(station, 1);
    // The form of handbook 7.4 by itself; the wire lies on arcs within a hundredth of a millimetre of it.
    const expected = [
      ...[moved(47, appliance, 0.5, 0)[0], moved(0, appliance, 0.5, 0)[1]],
      ...[moved(0, appliance, 0, 0.5)[1], moved(47, appliance, 0, 0.5)[0]],
    ];
    for (const [k, { rate }] of sizes.entries()) expect(Math.abs(rate - expected[k])).toBeLessThan(0.02);
    // The form's plane has the patient's left first and anterior second, and it is the left end.
    expect(sizes[0].moves?.toward[0]).toBeCloseTo(1, 2);
  });
});
