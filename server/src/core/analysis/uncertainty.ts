/**
 * How far the figures of an appliance spread when its wire scatters.
 *
 * The one convention: every range is taken to hold 19 of 20 cases, that is, as two standard deviations of a normal
 * distribution to either side of its middle, and so is every band. Single effects are combined as the root of the sum of
 * their squares (law of propagation of uncertainty, JCGM 100:2008, 5.1.2, from memory), each from the ends of its range, its
 * curvature included; the scatters are taken as independent of each other.
 *
 * Whether that may be done is tried on a few wires in which everything scatters at once. A figure that does not follow
 * the sum of the single effects closely enough takes its band from sampled wires instead.
 */
import type { ApplianceDesign } from '../design';
import { normalNumbers } from '../math/random';
import { analyseAppliance } from './analyse';
import type { AnalysisOptions } from './analysis';
import { type Figures, figuresAt, listed, mapFigures } from './figures';
import { type Scatter, varied } from './scatter';
import { carriedAlong, withFurtherWires } from './several-wires';

export interface Band {
  readonly low: number;
  readonly high: number;
  /** How it was found: from the single effects, or from sampled wires where these do not add up. */
  readonly method: 'single-effects' | 'sampled';
  /**
   * Deviation of whole wires from the sum of the single effects taken as straight lines: root mean square, as a part of half
   * the band of single effects.
   */
  readonly nonLinearity: number;
  /** Per scatter. */
  readonly effects: readonly Effect[];
}

export interface Effect {
  /** Half the change of the figure from the low end of the scatter's range to the high end, in the figure's unit. */
  readonly change: number;
  /** Part of the band's variance, 0 to 1. */
  readonly share: number;
}

export interface Uncertainty {
  /** mm from neutral. */
  readonly activation: number;
  readonly figures: Figures<number>;
  readonly bands: Figures<Band>;
  /** Wires that were solved, and those among the varied ones that have no such state and are left out. */
  readonly wires: { readonly solved: number; readonly unsolved: number };
}

/** Another wire on the same teeth, which scatters by itself. */
export interface ScatteredWire {
  readonly name: string;
  readonly design: ApplianceDesign;
  readonly scatter: readonly Scatter[];
}

/** Runs `uncertaintySteps` to its end. */
export function uncertaintyOf(
  design: ApplianceDesign,
  scatter: readonly Scatter[],
  activation: number,
  options: Partial<AnalysisOptions> = {},
  further: readonly ScatteredWire[] = [],
): Uncertainty | undefined {
  const steps = uncertaintySteps(design, scatter, activation, options, further);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/**
 * Bands of the figures at one activation, mm from neutral; undefined where the design itself has no such state. With further
 * wires the wrenches are those of all of them, and the effects are those of the wire's own scatters and then of each further one's.
 * Yields after every wire, so that a caller can pause it or drop it.
 */
export function* uncertaintySteps(
  design: ApplianceDesign,
  own: readonly Scatter[],
  activation: number,
  options: Partial<AnalysisOptions> = {},
  further: readonly ScatteredWire[] = [],
): Generator<undefined, Uncertainty | undefined> {
  const wires = { solved: 0, unsolved: 0 };
  const scatter = [...own, ...further.flatMap((wire) => wire.scatter)];
  const solve = (deviations: readonly number[]): Figures<number> | undefined => {
    const figures = figuresOf(design, own, activation, options, further, deviations);
    wires[figures ? 'solved' : 'unsolved']++;
    return figures;
  };
  const row = (deviations: readonly number[]): number[] | undefined => {
    const figures = solve(deviations);
    return figures && listed(figures);
  };
  const figures = solve(scatter.map(() => 0));
  if (!figures) return undefined;
  const nominal = listed(figures);
  const singles: Single[][] = [];
  for (const [k, one] of scatter.entries()) {
    yield;
    const low = row(scatter.map((_, i) => (i === k ? one.low : 0)));
    yield;
    const high = row(scatter.map((_, i) => (i === k ? one.high : 0)));
    singles.push(nominal.map((figure, i) => singleEffect(one, low?.[i], figure, high?.[i])));
  }
  const middle = nominal.map((figure, i) => figure + sum(singles.map((single) => single[i].offset)));
  const half = nominal.map((_, i) => Math.sqrt(sum(singles.map((single) => single[i].square)))).map(aboveNoise);

  const normal = normalNumbers(SEED);
  const samples: number[][] = [];
  const departures = nominal.map(() => 0);
  for (let pair = 0; pair < TRIALS; pair++) {
    const way = scatter.map(() => normal());
    for (const sign of [1, -1]) {
      yield;
      const parts = way.map((part) => (sign * part) / SIGMAS);
      const sample = row(scatter.map((one, k) => at(one, parts[k])));
      if (!sample) continue;
      samples.push(sample);
      for (const [i, figure] of sample.entries()) {
        const expected = middle[i] + sum(singles.map((single, k) => parts[k] * single[i].change));
        departures[i] += (figure - expected) ** 2;
      }
    }
  }
  const nonLinearity = departures.map((square, i) =>
    half[i] > 0 && samples.length > 0 ? Math.sqrt(square / samples.length) / half[i] : 0,
  );
  if (nonLinearity.some((part) => part > LINEAR)) {
    for (let k = samples.length; k < SAMPLES; k++) {
      yield;
      const sample = row(scatter.map((one) => at(one, normal() / SIGMAS)));
      if (sample) samples.push(sample);
    }
  }
  const bands = mapFigures(figures, (_, i): Band => {
    const square = half[i] ** 2;
    const effects = singles.map((single) => ({
      change: single[i].change,
      share: square > 0 ? single[i].square / square : 0,
    }));
    const column = samples.map((sample) => sample[i]).sort((a, b) => a - b);
    const sampled = nonLinearity[i] > LINEAR;
    return {
      low: sampled ? quantile(column, BELOW) : middle[i] - half[i],
      high: sampled ? quantile(column, 1 - BELOW) : middle[i] + half[i],
      method: sampled ? 'sampled' : 'single-effects',
      nonLinearity: nonLinearity[i],
      effects,
    };
  });
  return { activation, figures, bands, wires };
}

/** Standard deviations from the middle of a range, or of a band, to its ends. */
export const SIGMAS = 2;
/** Part of a normal distribution below minus two standard deviations. */
const BELOW = 0.02275;
/** Pairs of opposite wires on which the sum of single effects is tried. */
const TRIALS = 8;
/**
 * Departure from that sum, as a part of half the band, up to which it is used. At worst all of it goes with the square of one
 * normal number z: as (z² - 1)/√2 times it shifts the ends, at z = ±2, by 2.1 times as much, a tenth of half the band.
 */
const LINEAR = 0.05;
/** Wires that a sampled band is taken from: its ends are then known to 8 % of its half (order statistics). */
const SAMPLES = 300;
const SEED = 1;

/** What the solver leaves of figures that are nothing, as side forces in a plane: N, N mm, mm, rad, MPa, N/mm. */
const NOISE = 1e-6;

function aboveNoise(half: number): number {
  return half < NOISE ? 0 : half;
}

/** Of one set of wires: `deviations` are those of the wire's own scatters and then of each further one's. */
export function figuresOf(
  design: ApplianceDesign,
  scatter: readonly Scatter[],
  activation: number,
  options: Partial<AnalysisOptions>,
  further: readonly ScatteredWire[],
  deviations: readonly number[],
): Figures<number> | undefined {
  const wire = varied(design, scatter, deviations);
  const one = wire.activation ? { ...wire, activation: { ...wire.activation, stages: [activation] } } : wire;
  const analyse = (each: ApplianceDesign) => analyseAppliance(each, options);
  const own = analyse(one);
  const at = wire.activation ? activation : 0;
  if (further.length === 0) return figuresAt(own, one, at);
  let first = scatter.length;
  const others = further.map(({ name, design: other, scatter: of }) => {
    const bent = varied(other, of, deviations.slice(first, first + of.length));
    first += of.length;
    return { name, design: bent, analysis: analyse(bent) };
  });
  return figuresAt(withFurtherWires(one, own, carriedAlong(others, one, own, analyse)), one, at);
}

/** A place in a scatter's range, -1 at its low end and 1 at its high end. */
function at({ low, high }: Scatter, part: number): number {
  return (low + high) / 2 + (part * (high - low)) / 2;
}

interface Single {
  /** Of the figure at the middle of the range and on the mean, against the design's own. */
  readonly offset: number;
  /** Half the change over the range. */
  readonly change: number;
  /** Of the half band that this scatter alone would make. */
  readonly square: number;
}

/**
 * By the parabola through the figure at both ends of the range and at the design's own value; by a straight line where one
 * of them is missing.
 */
function singleEffect(
  { low: a, high: b }: Scatter,
  low: number | undefined,
  own: number,
  high: number | undefined,
): Single {
  const middle = (a + b) / 2;
  const sigma = (b - a) / 2 / SIGMAS;
  const toLow = low !== undefined && a !== 0 ? (low - own) / a : undefined;
  const toHigh = high !== undefined && b !== 0 ? (high - own) / b : undefined;
  const bend = toLow !== undefined && toHigh !== undefined && a < b ? (toHigh - toLow) / (b - a) : 0;
  const slope = toLow === undefined ? (toHigh ?? 0) : toLow - bend * a;
  const change = (slope + 2 * bend * middle) * SIGMAS * sigma;
  return {
    offset: slope * middle + bend * (middle ** 2 + sigma ** 2),
    change,
    // The square of a normal number has the variance 2.
    square: change ** 2 + 2 * (SIGMAS * bend * sigma ** 2) ** 2,
  };
}

function quantile(sorted: readonly number[], part: number): number {
  const place = part * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, one) => total + one, 0);
}
