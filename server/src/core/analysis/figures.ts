/** The headline figures of an appliance in one state, as numbers or whatever is said of each of them. */
import type { ApplianceDesign } from '../design';
import type { ApplianceAnalysis } from './analysis';

/** Units: N, N mm, mm, rad, MPa, N/mm; of `Figures<Band>` those of the numbers they are of. */
export interface Figures<T> {
  /** Per attachment, along and about its mesial, gingival and buccal axes. */
  readonly wrenches: readonly { readonly force: Triple<T>; readonly moment: Triple<T> }[];
  readonly loops: readonly { readonly legGap: T; readonly legAngle: T }[];
  /** Amount of the motion at neutral; undefined without activation. */
  readonly neutral: T | undefined;
  /** Force along the motion per mm of it; undefined without activation. */
  readonly stiffness: T | undefined;
  readonly stress: T;
  /** Largest stress over yield strength. */
  readonly elasticUse: T;
}

export type Triple<T> = readonly [T, T, T];

/** Of the stage at that activation, mm from neutral; undefined where it has not been solved. */
export function figuresAt(
  analysis: ApplianceAnalysis,
  { activation: activated }: ApplianceDesign,
  activation: number,
): Figures<number> | undefined {
  const index = analysis.stages.findIndex((stage) => Math.abs(stage.activation - activation) < SAME);
  const state = analysis.stages[index]?.state;
  if (!state) return undefined;
  return {
    wrenches: state.wrenches,
    loops: state.loops,
    neutral: activated && analysis.neutral?.motion,
    stiffness: analysis.stiffness[index],
    stress: state.stress,
    elasticUse: state.elasticUse,
  };
}

/** Activations closer than this, mm, are the same. */
const SAME = 1e-9;

/** The figures in a row, always in the same order. */
export function listed<T>({ wrenches, loops, neutral, stiffness, stress, elasticUse }: Figures<T>): T[] {
  return [
    ...wrenches.flatMap(({ force, moment }) => [...force, ...moment]),
    ...loops.flatMap(({ legGap, legAngle }) => [legGap, legAngle]),
    ...(neutral === undefined ? [] : [neutral]),
    ...(stiffness === undefined ? [] : [stiffness]),
    stress,
    elasticUse,
  ];
}

/** The same figures with what `of` says of each, given its place in the row of `listed`. */
export function mapFigures<T, U>(figures: Figures<T>, of: (figure: T, place: number) => U): Figures<U> {
  let place = 0;
  const next = (figure: T): U => of(figure, place++);
  const triple = ([a, b, c]: Triple<T>): Triple<U> => [next(a), next(b), next(c)];
  return {
    wrenches: figures.wrenches.map(({ force, moment }) => ({ force: triple(force), moment: triple(moment) })),
    loops: figures.loops.map(({ legGap, legAngle }) => ({ legGap: next(legGap), legAngle: next(legAngle) })),
    neutral: figures.neutral === undefined ? undefined : next(figures.neutral),
    stiffness: figures.stiffness === undefined ? undefined : next(figures.stiffness),
    stress: next(figures.stress),
    elasticUse: next(figures.elasticUse),
  };
}
