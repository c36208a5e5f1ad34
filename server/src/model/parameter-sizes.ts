/** Which sizes of the wire a parameter sets: found by laying the path out again with the parameter a little more and a little less. */
import { centreline, poseAt } from '#core/geometry/centreline';
import { compose, relativeTo } from '#core/geometry/pose';
import { add, dot, norm, scale, subtract, type Vec3, zeroVector } from '#core/math/vector';
import type { Quantity } from '#core/units/quantity';
import type { Argument } from '#grammar/tree';
import { resolveAppliance } from './appliance/resolve-appliance';
import { quantityValue } from './expression/value';
import { SILENT } from './names/scope';
import type { PathStep, ResolvedAppliance, ResolvedParameter } from './resolved';

/** A size of one step that follows a parameter in proportion. */
export interface ParameterSize {
  readonly parameter: string;
  /**
   * Length of a straight piece, radius of a bend or helix, mm; angle of a bend, rad; place of the front or the end of wire that
   * follows an arch form, mm from its first attachment.
   */
  readonly kind: 'length' | 'radius' | 'angle' | 'place';
  readonly step: PathStep;
  /** What the size grows by, or how far the place moves, as the parameter grows by one, in mm, N, rad … */
  readonly rate: number;
  /** Of a place: where it is along the wire, mm, and the direction in which it moves, of length one, from outside. */
  readonly moves?: { readonly station: number; readonly toward: Vec3 };
  /** What an angle turns about, of length one, in the section frame of the wire that comes in. */
  readonly axis?: Vec3;
}

/**
 * In written order of the parameters; of each, the sizes that no other parameter has a part in or, where there is none, those that
 * follow it one to one (a loop's leg follows its height, though its width has a part in it) or are places of an arch, in which
 * its width and depth always have a part each. What has the parameter's own value comes
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
    const chosen =
      alone.length > 0
        ? alone
        : inProportion.filter(({ kind, rate }) => kind === 'place' || Math.abs(Math.abs(rate) - 1) < NEARLY);
    return chosen
      .map(({ kind, index, rate, axis, moves }) => {
        return { parameter: parameter.name, kind, step: steps[index], rate, axis, moves };
      })
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
  readonly moves?: ParameterSize['moves'];
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
  const sizes = steps.flatMap((step, index) =>
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
  return [...sizes, ...archChanges(less, appliance, more, nudge)];
}

/** Of wire that follows an arch form how its end moves sideways and its front forward, what moves most first. */
function archChanges(
  less: ResolvedAppliance,
  now: ResolvedAppliance,
  more: ResolvedAppliance,
  nudge: number,
): readonly Change[] {
  const followed = now.steps.flatMap(({ kind }, index) => (kind === 'follow' ? [index] : []));
  if (followed.length === 0) return [];
  const [first, last] = [followed[0], followed[followed.length - 1]];
  const arches = [less, now, more].map((one) => archOf(one, one.steps[first].from, one.steps[last].to));
  const change = (place: 'end' | 'front', toward: Vec3, station: number): Change[] => {
    const [before, here, after] = arches.map((arch) => dot(arch[place], toward));
    if (Math.abs(after - before) <= SAME * Math.max(arches[1].width, nudge)) return [];
    const rate = (after - before) / (2 * nudge);
    const isLinear = Math.abs(after - 2 * here + before) <= NEARLY * Math.abs(after - before);
    const index = followed.find((one) => now.steps[one].to >= station) ?? last;
    const key = `arch ${place}`;
    return [{ key, index, kind: 'place', rate, isLinear, axis: undefined, moves: { station, toward } }];
  };
  const { across, forward } = arches[1];
  const [from, to] = [now.steps[first].from, now.steps[last].to];
  return [...change('end', across, to), ...change('front', forward, (from + to) / 2)].sort(
    (a, b) => Math.abs(b.rate) - Math.abs(a.rate),
  );
}

/** Places from the first attachment, mm, and the directions from end to end and from there to the front. */
function archOf(appliance: ResolvedAppliance, from: number, to: number) {
  const [start, end, front] = [from, to, (from + to) / 2].map((station) => placeAt(appliance, station));
  const chord = subtract(end, start);
  const width = norm(chord);
  const across = scale(chord, 1 / (width || 1));
  const middle = scale(add(start, end), 0.5);
  const rise = subtract(front, middle);
  const upright = subtract(rise, scale(across, dot(rise, across)));
  return { end, front, width, across, forward: scale(upright, 1 / (norm(upright) || 1)) };
}

/** Of the wire as it is meant to lie, seen from outside: its first attachment holds it. */
function placeAt({ design }: Pick<ResolvedAppliance, 'design'>, station: number): Vec3 {
  const [seat] = design?.attachments ?? [];
  if (!design || !seat) return zeroVector;
  const line = centreline(design.elements, { position: zeroVector, axes: seat.seatedWire.axes }, 0);
  return compose(seat.seatedWire, relativeTo(poseAt(line, seat.station), poseAt(line, station))).position;
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

function sizesOf({
  kind,
  from,
  to,
  angle,
  radius,
}: PathStep): readonly (readonly [Exclude<ParameterSize['kind'], 'place'>, number?])[] {
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
