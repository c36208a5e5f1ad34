/**
 * A cross-section as fibres along the wire. Stretch stays elastic and does not take part in yielding, so that a section and its
 * image under a half turn are alike and half of the fibres will do. mm, MPa, N mm, rad/mm.
 */
import type { Section } from '../design';
import { sectionProperties } from './section';
import type { Torsion } from './twisted-section';
import type { FibreLaw } from './uniaxial-law';

export interface FibreSection {
  readonly law: FibreLaw;
  /** Fibres of one half. */
  readonly count: number;
  /** Place of each fibre along up and along side, mm, and its area with that of its image, mm². */
  readonly up: Float64Array;
  readonly side: Float64Array;
  readonly area: Float64Array;
  /** Area of them all, mm². */
  readonly size: number;
  /** Elastic bending stiffness about side and about up, N mm²: exactly the section's. */
  readonly stiffnessSide: number;
  readonly stiffnessUp: number;
  /** Distances of the outermost fibres, mm. */
  readonly farUp: number;
  readonly farSide: number;
  /** Of a section that is twisted too. */
  readonly torsion: Torsion | undefined;
}

/** Layers over the half height for bending about the side axis alone. */
export const PLANAR_LAYERS = 16;
/** Rows over the half height and columns over the whole width; rings and sectors of the half circle. All but the sectors even. */
export const SPATIAL_GRID = { rows: 6, columns: 12, rings: 4, sectors: 18 };

/** For bending about the side axis alone: layers over the height. */
export function layeredSection(section: Section, law: FibreLaw, layers = PLANAR_LAYERS): FibreSection {
  const { height } = sectionProperties(section);
  const strips = gaussStrips(layers, 0, height / 2, widthAt(section));
  const up = Float64Array.from(strips, ({ place }) => place);
  const area = Float64Array.from(strips, ({ weight }) => 2 * weight);
  return finish(section, law, up, new Float64Array(up.length), area);
}

/** For bending about any axis. */
export function griddedSection(section: Section, law: FibreLaw, grid = SPATIAL_GRID): FibreSection {
  const up: number[] = [];
  const side: number[] = [];
  const area: number[] = [];
  if (section.kind === 'round') {
    for (const { place, weight } of gaussStrips(grid.rings, 0, section.diameter / 2, (r) => r)) {
      for (let j = 0; j < grid.sectors; j++) {
        const angle = ((j + 0.5) * Math.PI) / grid.sectors;
        up.push(place * Math.sin(angle));
        side.push(place * Math.cos(angle));
        area.push((2 * Math.PI * weight) / grid.sectors);
      }
    }
  } else {
    // Columns share the width that the rounded outline has at their row.
    const width = widthAt(section);
    const columns = gaussStrips(grid.columns, -0.5, 0.5, () => 1);
    for (const row of gaussStrips(grid.rows, 0, section.height / 2, width)) {
      for (const column of columns) {
        up.push(row.place);
        side.push(column.place * width(row.place));
        area.push(2 * row.weight * column.weight);
      }
    }
  }
  return finish(section, law, Float64Array.from(up), Float64Array.from(side), Float64Array.from(area));
}

/**
 * Places and weights of `count` (even) fibres over a height: two in each of equal strips, where Gauss's rule for its width has
 * them. With that the elastic moment is exact and so is the fully plastic one, the first moment of the half; a fibre
 * in the middle of its strip, or at its radius of gyration, misses one of them by some tenths of a per cent.
 */
function gaussStrips(
  count: number,
  from: number,
  to: number,
  width: (place: number) => number,
): { readonly place: number; readonly weight: number }[] {
  const size = (2 * (to - from)) / count;
  return Array.from({ length: count / 2 }, (_, k) => {
    const middle = from + (k + 0.5) * size;
    // Moments of the strip about its middle, up to the third.
    const m = [0, 0, 0, 0];
    for (let part = 0; part < PARTS; part++) {
      const place = ((part + 0.5) / PARTS - 0.5) * size;
      const weight = (width(middle + place) * size) / PARTS;
      const own = (size / PARTS) ** 2 / 12;
      m[0] += weight;
      m[1] += weight * place;
      m[2] += weight * (place * place + own);
      m[3] += weight * place * (place * place + 3 * own);
    }
    const mean = m[1] / m[0];
    const spread = m[2] / m[0] - mean * mean;
    const skew = (m[3] / m[0] - (3 * mean * m[2]) / m[0] + 2 * mean ** 3) / (2 * spread);
    const reach = Math.sqrt(skew * skew + spread);
    const low = mean + skew - reach;
    const high = mean + skew + reach;
    const upper = (m[0] * (mean - low)) / (high - low);
    return [
      { place: middle + low, weight: m[0] - upper },
      { place: middle + high, weight: upper },
    ];
  }).flat();
}

/** Places scaled so that the elastic stiffness is the section's own, which rounded corners alone make more than rounding. */
function finish(
  section: Section,
  law: FibreLaw,
  up: Float64Array,
  side: Float64Array,
  area: Float64Array,
): FibreSection {
  const { inertiaSide, inertiaUp } = sectionProperties(section);
  scaleTo(up, area, inertiaSide);
  scaleTo(side, area, inertiaUp);
  const modulus = law.modulus + law.parallel;
  return {
    law,
    count: area.length,
    up,
    side,
    area,
    size: area.reduce((sum, one) => sum + one, 0),
    stiffnessSide: modulus * inertiaSide,
    stiffnessUp: modulus * inertiaUp,
    farUp: up.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
    farSide: side.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
    torsion: undefined,
  };
}

function scaleTo(place: Float64Array, area: Float64Array, inertia: number): void {
  let sum = 0;
  for (let k = 0; k < place.length; k++) sum += area[k] * place[k] * place[k];
  if (!(sum > 0)) return;
  const factor = Math.sqrt(inertia / sum);
  for (let k = 0; k < place.length; k++) place[k] *= factor;
}

/** Half width of a section at a height above its middle, times two. */
function widthAt(section: Section): (y: number) => number {
  if (section.kind === 'round') {
    const radius = section.diameter / 2;
    return (y) => 2 * Math.sqrt(Math.max(0, radius * radius - y * y));
  }
  const { height, width } = section;
  const r = Math.min(section.cornerRadius, height / 2, width / 2);
  return (y) => {
    const into = y - (height / 2 - r);
    return into <= 0 || r === 0 ? width : width - 2 * (r - Math.sqrt(Math.max(0, r * r - into * into)));
  };
}

const PARTS = 32;
