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
/** Rows over the half height and columns over the whole width; rings and sectors of the half circle. */
export const SPATIAL_GRID = { rows: 6, columns: 12, rings: 6, sectors: 12 };

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
  const up = new Float64Array(layers);
  const area = new Float64Array(layers);
  const width = widthAt(section);
  for (let k = 0; k < layers; k++) {
    // A fibre stands where its layer's second moment puts it.
    const from = (k * height) / (2 * layers);
    const cell = integral(from, from + height / (2 * layers), width);
    area[k] = 2 * cell.area;
    up[k] = Math.sqrt(cell.second / cell.area);
  }
  return finish(section, law, up, new Float64Array(layers), area);
}

/** For bending about any axis. */
export function griddedSection(section: Section, law: FibreLaw, grid = SPATIAL_GRID): FibreSection {
  const up: number[] = [];
  const side: number[] = [];
  const area: number[] = [];
  if (section.kind === 'round') {
    const radius = section.diameter / 2;
    for (let i = 0; i < grid.rings; i++) {
      const [inner, outer] = [(i * radius) / grid.rings, ((i + 1) * radius) / grid.rings];
      const place = Math.sqrt((inner * inner + outer * outer) / 2);
      for (let j = 0; j < grid.sectors; j++) {
        const angle = ((j + 0.5) * Math.PI) / grid.sectors;
        up.push(place * Math.sin(angle));
        side.push(place * Math.cos(angle));
        area.push((Math.PI * (outer * outer - inner * inner)) / grid.sectors);
      }
    }
  } else {
    const { height, width } = section;
    const across = widthAt(section);
    for (let i = 0; i < grid.rows; i++) {
      const from = (i * height) / (2 * grid.rows);
      const to = from + height / (2 * grid.rows);
      for (let j = 0; j < grid.columns; j++) {
        const [left, right] = [(j / grid.columns - 0.5) * width, ((j + 1) / grid.columns - 0.5) * width];
        // The part of the cell that lies in the rounded outline.
        const cell = integral(from, to, (y) => clip(right, across(y)) - clip(left, across(y)));
        if (!(cell.area > 0)) continue;
        const second = integral(from, to, (y) => (clip(right, across(y)) ** 3 - clip(left, across(y)) ** 3) / 3).area;
        up.push(Math.sqrt(cell.second / cell.area));
        side.push(Math.sign(left + right) * Math.sqrt(second / cell.area));
        area.push(2 * cell.area);
      }
    }
  }
  return finish(section, law, Float64Array.from(up), Float64Array.from(side), Float64Array.from(area));
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

/** Places scaled, by rounding at most where the cells are whole, so that the elastic stiffness is the section's own. */
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

/** A place along the width, kept within the outline. */
function clip(place: number, width: number): number {
  return Math.max(-width / 2, Math.min(width / 2, place));
}

/** Area and second moment of the strip between two heights, by the midpoint rule in `PARTS` parts. */
function integral(from: number, to: number, width: (y: number) => number): { area: number; second: number } {
  const h = (to - from) / PARTS;
  let area = 0;
  let second = 0;
  for (let k = 0; k < PARTS; k++) {
    const y = from + (k + 0.5) * h;
    const part = width(y) * h;
    area += part;
    second += part * (y * y + (h * h) / 12);
  }
  return { area, second };
}

const PARTS = 32;
