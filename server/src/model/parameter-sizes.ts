/** Which sizes of the wire a parameter sets: found by laying the path out again with the parameter a little more and a little less. */
import { norm, scale, type Vec3 } from '#core/math/vector';
import type { Quantity } from '#core/units/quantity';
import type { Argument } from '#grammar/tree';
import { resolveAppliance } from './appliance/resolve-appliance';
import { quantityValue } from './expression/value';
import { SILENT } from './names/scope';
import type { PathStep, ResolvedAppliance, ResolvedParameter } from './resolved';

/** A size of one step that follows a parameter in proportion. */
export interface ParameterSize {
  readonly parameter: string;
  /** Length of a straight piece, radius of a bend or helix, mm; angle of a bend, rad. */
  readonly kind: 'length' | 'radius' | 'angle';
  readonly step: PathStep;
  /** What the size grows by as the parameter grows by one, in mm, N, rad … */
  readonly rate: number;
  /** What an angle turns about, of length one, in the section frame of the wire that comes in. */
  readonly axis?: Vec3;
}

/**
 * In written order of the parameters; of each, the sizes that no other parameter has a part in or, where there is none, those that
 * follow it one to one (a loop's leg follows its height, though its width has a part in it). What has the parameter's own value comes
 * first, then what grows with it, then the larger.
 */
export function parameterSizes(appliance: ResolvedAppliance): readonly ParameterSize[] {
  const { steps, parameters } = appliance;
  const touched = new Map<string, number>();
  const found = parameters.map((parameter) => {
    const changes = changesWith(parameter, appliance);
    for (const { key } of changes) touched.set(key, (touched.get(key) ?? 0) + 1);
    return { parameter, changes };
  });
  return found.flatMap(({ parameter, changes }) => {
    const inProportion = changes.filter((change) => change.isLinear);
    const alone = inProportion.filter(({ key }) => touched.get(key) === 1);
    const chosen = alone.length > 0 ? alone : inProportion.filter(({ rate }) => Math.abs(Math.abs(rate) - 1) < NEARLY);
    return chosen
      .map(({ kind, index, rate, axis }) => ({ parameter: parameter.name, kind, step: steps[index], rate, axis }))
      .sort(
        (a, b) =>
          Number(isNamed(b, parameter)) - Number(isNamed(a, parameter)) || growing(b) - growing(a) || larger(a, b),
      );
  });
}

/** Relative difference below which two sizes are the same. */
const SAME = 1e-6;
/** Of the parameter, or of one of its unit where it is nought. */
const NUDGE = 0.02;
/** How much the rate may differ over the nudge: a leg that leans a little grows nearly in proportion. */
const STRAIGHT = 1e-3;
/** From one to one: a leg that leans a little is a little longer than the loop is high. */
const NEARLY = 0.02;

interface Change {
  /** Of the size: its step and kind. */
  readonly key: string;
  readonly index: number;
  readonly kind: ParameterSize['kind'];
  readonly rate: number;
  /** As much one way as the other. */
  readonly isLinear: boolean;
  readonly axis: Vec3 | undefined;
}

function changesWith({ name, node, value }: ResolvedParameter, appliance: ResolvedAppliance): readonly Change[] {
  if (!value) return [];
  const nudge = NUDGE * (Math.abs(value.value) || 1);
  const [less, more] = [-nudge, nudge].map((by) =>
    resolvedWith(name, { ...value, value: value.value + by }, appliance),
  );
  const { steps } = appliance;
  const isAlike = (others: ResolvedAppliance | undefined): others is ResolvedAppliance =>
    others?.steps.length === steps.length && others.steps.every(({ kind }, k) => kind === steps[k].kind);
  if (!isAlike(less) || !isAlike(more) || !node.name) return [];
  return steps.flatMap((step, index) =>
    sizesOf(step).flatMap(([kind, size]) => {
      const [low, high] = [less, more].map(
        (others) => sizesOf(others.steps[index]).find(([other]) => other === kind)?.[1],
      );
      if (size === undefined || low === undefined || high === undefined) return [];
      const slack = SAME * Math.max(Math.abs(size), nudge);
      if (Math.abs(high - size) <= slack && Math.abs(size - low) <= slack) return [];
      const isLinear = Math.abs(high - 2 * size + low) <= STRAIGHT * Math.abs(high - low);
      const rate = (high - low) / (2 * nudge);
      // One of them is no bend by nothing.
      const axis = kind === 'angle' ? (axisOf(more, index) ?? axisOf(less, index)) : undefined;
      return [{ key: `${index} ${kind}`, index, kind, rate, isLinear, axis }];
    }),
  );
}

function axisOf({ steps, design }: ResolvedAppliance, index: number): Vec3 | undefined {
  const { angle, elements } = steps[index];
  const element = design?.elements[elements[0]];
  if (!angle || !element || elements[1] === elements[0]) return undefined;
  const turn = norm(element.shape) > 0 ? element.shape : element.preactivation;
  return scale(turn, 1 / (norm(turn) * Math.sign(angle)));
}

/** As a variant of it would be that gives one parameter another value. */
function resolvedWith(
  name: string,
  { value, dimension }: Quantity,
  appliance: ResolvedAppliance,
): ResolvedAppliance | undefined {
  const { node, variant, main, parameters, scope } = appliance;
  const home = scope.own.get(name)?.definition.home;
  if (!home) return undefined;
  const given = parameters.flatMap((one) => {
    const quantity = one.name === name ? { value, dimension } : one.value;
    const { span, name: written, value: expression } = one.node;
    const argument: Argument = { span, name: written, value: expression };
    const isGiven = one.name === name || variant?.values.some((own) => own.name?.text === one.name);
    return quantity && isGiven
      ? [[one.name, { value: quantityValue(quantity.value, quantity.dimension), argument }] as const]
      : [];
  });
  const { span, doc, name: own } = node;
  const item = variant ?? { kind: 'variant', span, doc, name: own, base: own, site: undefined, values: [] };
  return resolveAppliance(node, home, SILENT, () => true, { variant: { item, given: new Map(given) }, main });
}

function sizesOf({ kind, from, to, angle, radius }: PathStep): readonly (readonly [ParameterSize['kind'], number?])[] {
  if (kind === 'straight') return [['length', to - from]];
  if (kind === 'helix') return [['radius', radius]];
  if (kind !== 'bend' && kind !== 'preactivate') return [];
  return [
    ['angle', angle],
    ['radius', radius],
  ];
}

const growing = ({ rate }: ParameterSize): number => Number(rate > 0);

/** What differs by rounding keeps its order along the wire. */
function larger(a: ParameterSize, b: ParameterSize): number {
  const difference = sizeOf(b) - sizeOf(a);
  return Math.abs(difference) <= SAME * sizeOf(a) ? 0 : difference;
}

const sizeOf = ({ kind, step }: ParameterSize): number =>
  Math.abs(sizesOf(step).find(([own]) => own === kind)?.[1] ?? 0);

function isNamed(size: ParameterSize, { value }: ResolvedParameter): boolean {
  return value !== undefined && Math.abs(sizeOf(size) - Math.abs(value.value)) <= SAME * Math.abs(value.value);
}
