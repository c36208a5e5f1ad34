/**
 * A cross-section as fibres along the wire: bending moments from curvatures and from what each fibre has been
 * through. Bending only: stretch and torsion stay elastic and do not take part in yielding, so that a section and its
 * image under a half turn are alike and half of the fibres will do. mm, MPa, N mm, rad/mm.
 */
import type { Section } from '../design';
import { sectionProperties } from './section';
import { elasticLimit, type FibreLaw, fibreStressAt, newHistory } from './uniaxial-law';

export interface FibreSection {
  readonly law: FibreLaw;
  /** Fibres of one half. */
  readonly count: number;
  /** Place of each fibre along up and along side, mm, and its area with that of its image, mm². */
  readonly up: Float64Array;
  readonly side: Float64Array;
  readonly area: Float64Array;
  /** Elastic bending stiffness about side and about up, N mm²: exactly the section's. */
  readonly stiffnessSide: number;
  readonly stiffnessUp: number;
  /** Distances of the outermost fibres, mm. */
  readonly farUp: number;
  readonly farSide: number;
}

/** Layers over the half height for bending about the side axis alone. */
export const PLANAR_LAYERS = 16;
/** Rows over the half height and columns over the whole width; rings and sectors of the half circle. All but the sectors even. */
export const SPATIAL_GRID = { rows: 6, columns: 12, rings: 4, sectors: 18 };

/** Moments and their derivatives, as `bend` and `bendSideways` leave them. */
export interface SectionAnswer {
  momentUp: number;
  momentSide: number;
  /** By curvature up and side: symmetric. */
  upUp: number;
  upSide: number;
  sideSide: number;
}

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

/** Bending about both axes, from the fibres' history at `at` (`count` numbers). */
export function bend(
  section: FibreSection,
  history: Float64Array,
  at: number,
  curvatureUp: number,
  curvatureSide: number,
  into: SectionAnswer,
): void {
  const { law, count, up, side, area, stiffnessSide, stiffnessUp } = section;
  const share = law.parallel / (law.modulus + law.parallel);
  into.momentUp = share * stiffnessUp * curvatureUp;
  into.momentSide = share * stiffnessSide * curvatureSide;
  into.upUp = share * stiffnessUp;
  into.sideSide = share * stiffnessSide;
  into.upSide = 0;
  const limit = law.kind === 'elastic-plastic' ? law.limit : 0;
  let mu = 0;
  let ms = 0;
  let uu = 0;
  let us = 0;
  let ss = 0;
  for (let k = 0; k < count; k++) {
    const y = up[k];
    const z = side[k];
    const a = area[k];
    // Bending about side lengthens what lies below; about up, what lies on the side.
    const strain = curvatureUp * z - curvatureSide * y;
    let elastic = strain - history[at + k];
    let stiff = true;
    if (limit > 0) {
      if (elastic > limit) {
        elastic = limit;
        stiff = false;
      } else if (elastic < -limit) {
        elastic = -limit;
        stiff = false;
      }
    } else {
      const now = newHistory(law, strain, history[at + k]);
      stiff = now === history[at + k] || isBound(law, now);
      elastic = strain - now;
    }
    mu += a * z * elastic;
    ms -= a * y * elastic;
    if (!stiff) continue;
    uu += a * z * z;
    us -= a * y * z;
    ss += a * y * y;
  }
  into.momentUp += law.modulus * mu;
  into.momentSide += law.modulus * ms;
  into.upUp += law.modulus * uu;
  into.upSide += law.modulus * us;
  into.sideSide += law.modulus * ss;
}

/** No fibre without history leaves its first elastic line at these curvatures. */
export function staysElastic(section: FibreSection, curvatureUp: number, curvatureSide: number): boolean {
  return mostStrain(section, curvatureUp, curvatureSide) <= elasticLimit(section.law);
}

/** Strain that no fibre exceeds. */
export function mostStrain({ farUp, farSide }: FibreSection, curvatureUp: number, curvatureSide: number): number {
  return Math.abs(curvatureUp) * farSide + Math.abs(curvatureSide) * farUp;
}

/** Moments of a section all of whose fibres are elastic and without history. */
export function bendElastically(
  { stiffnessSide, stiffnessUp }: FibreSection,
  curvatureUp: number,
  curvatureSide: number,
  into: SectionAnswer,
): void {
  into.momentUp = stiffnessUp * curvatureUp;
  into.momentSide = stiffnessSide * curvatureSide;
  into.upUp = stiffnessUp;
  into.sideSide = stiffnessSide;
  into.upSide = 0;
}

/** Makes the state at these curvatures the fibres' history; the largest change of it, strain. */
export function commit(
  { law, count, up, side }: FibreSection,
  history: Float64Array,
  at: number,
  curvatureUp: number,
  curvatureSide: number,
): number {
  let largest = 0;
  for (let k = 0; k < count; k++) {
    const before = history[at + k];
    const now = newHistory(law, curvatureUp * side[k] - curvatureSide * up[k], before);
    largest = Math.max(largest, Math.abs(now - before));
    history[at + k] = now;
  }
  return largest;
}

/** Largest elastic strain of a fibre over the limit at which its history goes on: above 1, it does. */
export function reachOfLimit(
  { law, count, up, side }: FibreSection,
  history: Float64Array,
  at: number,
  curvatureUp: number,
  curvatureSide: number,
): number {
  let largest = 0;
  for (let k = 0; k < count; k++) {
    largest = Math.max(largest, Math.abs(curvatureUp * side[k] - curvatureSide * up[k] - history[at + k]));
  }
  return largest / elasticLimit(law);
}

/** Largest stress of a fibre in bending, MPa. */
export function largestStress(
  { law, count, up, side }: FibreSection,
  history: Float64Array,
  at: number,
  curvatureUp: number,
  curvatureSide: number,
): number {
  let largest = 0;
  for (let k = 0; k < count; k++) {
    const strain = curvatureUp * side[k] - curvatureSide * up[k];
    largest = Math.max(largest, Math.abs(fibreStressAt(law, strain, history[at + k])));
  }
  return largest;
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
    stiffnessSide: modulus * inertiaSide,
    stiffnessUp: modulus * inertiaUp,
    farUp: up.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
    farSide: side.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
  };
}

function scaleTo(place: Float64Array, area: Float64Array, inertia: number): void {
  let sum = 0;
  for (let k = 0; k < place.length; k++) sum += area[k] * place[k] * place[k];
  if (!(sum > 0)) return;
  const factor = Math.sqrt(inertia / sum);
  for (let k = 0; k < place.length; k++) place[k] *= factor;
}

/** Half-open bounds of a transformation at which the fibre is elastic again. */
function isBound(law: FibreLaw, history: number): boolean {
  return law.kind === 'superelastic' && (history === 0 || Math.abs(history) === law.full);
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
