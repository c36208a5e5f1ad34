/** Each side is drawn as a person looking at it sees it; forces and turns point to the right sides. */
import { describe, expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { evaluateAppliance } from '#model/evaluate';
import { resolveAppliance } from '../model/resolve-text';

function drawn(text: string): string {
  const appliance = resolveAppliance(text);
  return drawAppliance(evaluateAppliance(appliance, text)) ?? '';
}

const steel = 'alloy steel { modulus = 180 GPa poisson = 0.3 yield = 1500 MPa inner_radius = 1 }\n';

const cantilever = (site: string) => `${steel}appliance spring ${site} {
  wire round 0.4 mm of steel
  path running mesial {
    straight 2 mm
    seat molar
    straight 3 mm
    preactivate 20 deg toward gingival
    straight 20 mm
    seat canine
    straight 2 mm
  }
  tube molar
  hook canine
}`;

/** Canvas places of the molar and the canine, and the way in which the canine is pushed. */
function read(svg: string) {
  const places = [...svg.matchAll(/class="attachment \w+" transform="translate\(([\d.]+) ([\d.]+)\)/g)];
  const [molar, canine] = places.map(([, x, y]) => [Number(x), Number(y)]);
  const shaft = /class="force gingival"><path class="shaft" d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/.exec(svg);
  return { molar, canine, up: shaft ? Number(shaft[2]) - Number(shaft[4]) : Number.NaN };
}

describe('a quadrant', () => {
  it.each([
    ['on upper right', 1, 1, 'mesial to the right, gingival up'],
    ['on upper left', -1, 1, 'distal to the right, gingival up'],
    ['on lower right', 1, -1, 'mesial to the right, occlusal up'],
    ['on lower left', -1, -1, 'distal to the right, occlusal up'],
  ])('%s', (site, mesial, gingival, words) => {
    const svg = drawn(cantilever(site));
    const { molar, canine, up } = read(svg);
    expect(Math.sign(canine[0] - molar[0])).toBe(mesial);
    // The spring intrudes the canine: toward the gum, up in an upper and down in a lower jaw.
    expect(Math.sign(up)).toBe(gingival);
    expect(svg).toContain(`Seen from the cheek: ${words}.`);
  });

  it('turns moments round with the mirror', () => {
    const turn = (site: string) =>
      / 0 0 ([01]) [^"]*" fill="none"\/><path class="head"/.exec(
        drawn(cantilever(site)).split('class="moment crown_distal"')[1] ?? '',
      )?.[1];
    const [right, left, lowerRight, lowerLeft] = ['upper right', 'upper left', 'lower right', 'lower left'].map(
      (side) => turn(`on ${side}`),
    );
    expect(right).toBeDefined();
    expect(left).not.toBe(right);
    expect(lowerRight).not.toBe(right);
    expect(lowerLeft).toBe(right);
  });
});

describe('a whole arch', () => {
  const bar = (arch: string, right: number, left: number) => `${steel}appliance bar in ${arch} arch {
  wire round 0.9 mm of steel
  path running left {
    seat right_molar
    preactivate 5 deg toward anterior radius 0 mm
    straight 40 mm
    seat left_molar
  }
  tube right_molar on tooth ${right}, facing right
  tube left_molar on tooth ${left}, facing left
}`;
  it('is seen from the biting side, the patient’s right on the left', () => {
    for (const svg of [drawn(bar('upper', 16, 26)), drawn(bar('lower', 46, 36))]) {
      const { molar: right, canine: left } = read(svg);
      expect(left[0]).toBeGreaterThan(right[0]);
      expect(svg).toContain('From the biting side');
      expect(svg).not.toContain('From the cheek');
    }
    expect(drawn(bar('upper', 16, 26))).toContain('anterior up.');
    expect(drawn(bar('lower', 46, 36))).toContain('posterior up.');
  });

  it('points each tooth’s force along its own directions', () => {
    const svg = drawn(bar('upper', 16, 26));
    // Bowed between sheaths that stand as far apart as it is long, the bar pulls at both molars alike.
    const shafts = [
      ...svg.matchAll(/class="force (buccal|lingual)"><path class="shaft" d="M([\d.]+) [\d.]+L([\d.]+)/g),
    ];
    for (const [, name, from, to] of shafts) {
      const onRight = Number(from) < 480;
      const outward = Number(to) < Number(from) === onRight;
      expect(outward).toBe(name === 'buccal');
    }
    expect(shafts.length).toBe(2);
  });
});
