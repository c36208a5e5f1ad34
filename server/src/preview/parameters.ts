/** Parameters as the preview offers them, those with a range as sliders and those that set a size as handles, and what becomes of the text when they are given other values. */
import { displayUnit } from '#core/units/format';
import type { Quantity } from '#core/units/quantity';
import { unitFactor } from '#core/units/unit';
import type { Expression, Span } from '#grammar/tree';
import type { ParameterSize } from '#model/parameter-sizes';
import type { ResolvedAppliance, ResolvedParameter } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import type { PreviewHandle, PreviewParameter } from './view';

/** `text` is that of the appliance's file. */
export function previewParameters({ parameters }: ResolvedAppliance, text: string): PreviewParameter[] {
  return parameters.flatMap((parameter): PreviewParameter[] => {
    const { name, node, value, range } = parameter;
    if (!value || !range || !(range.high.value > range.low.value)) return [];
    const unit = unitOf(parameter, text);
    const [now, low, high] = [value, range.low, range.high].map((quantity) => inUnit(quantity, unit));
    // Counts stay whole.
    const isCount = unit === '' && [now, low, high].every(Number.isInteger);
    return [{ name, value: now, low, high, unit, step: isCount ? 1 : stepOf(high - low), documentation: node.doc }];
  });
}

/** One for each parameter that sets one of the sizes; without a range it goes as far as no size gets below nought. */
export function previewHandles(
  appliance: ResolvedAppliance,
  sizes: readonly ParameterSize[],
  text: string,
): PreviewHandle[] {
  const ranged = previewParameters(appliance, text);
  return appliance.parameters.flatMap((parameter): PreviewHandle[] => {
    const { name, node, value } = parameter;
    const own = sizes.filter((size) => size.parameter === name);
    if (!value || own.length === 0) return [];
    const unit = unitOf(parameter, text);
    const of = { kind: own[0].kind, factor: unit === '' ? 1 : unitFactor(unit) };
    const declared = ranged.find((one) => one.name === name);
    if (declared) return [{ ...declared, ...of }];
    const now = inUnit(value, unit);
    // Where the sizes that get smaller with it are nought.
    const ends = own.flatMap(({ kind, step, rate }) =>
      kind === 'angle' || kind === 'place'
        ? []
        : [{ rate, end: value.value - (kind === 'length' ? step.to - step.from : (step.radius ?? 0)) / rate }],
    );
    const end = (sense: 1 | -1): number | undefined => {
      const nearest = ends
        .filter(({ rate }) => Math.sign(rate) === sense)
        .reduce<number | undefined>(
          (best, one) => (best !== undefined && sense * best > sense * one.end ? best : one.end),
          undefined,
        );
      // What rounding leaves beside nought is nought.
      return nearest === undefined ? undefined : Number(inUnit({ ...value, value: nearest }, unit).toFixed(9)) + 0;
    };
    const step = stepOf(2 * Math.abs(now) || 10);
    return [{ name, value: now, low: end(1), high: end(-1), unit, step, documentation: node.doc, ...of }];
  });
}

export interface ParameterChange {
  readonly span: Span;
  readonly text: string;
}

/** Replacements in the text, one per parameter that has a place there. */
export function parameterChanges(
  appliance: ResolvedAppliance,
  values: Readonly<Record<string, number>>,
  text: string,
): ParameterChange[] {
  return appliance.parameters.flatMap((parameter): ParameterChange[] => {
    const value = values[parameter.name];
    const written = writtenValue(appliance, parameter);
    if (value === undefined || !Number.isFinite(value) || !written) return [];
    const unit = unitOf(parameter, text);
    const number = String(Number(value.toPrecision(12)));
    return [{ span: written.span, text: unit === '' ? number : `${number} ${unit}` }];
  });
}

/** The snapshot's text with values tried out. */
export function withValues({ text }: Snapshot, changes: readonly ParameterChange[]): string {
  return [...changes]
    .sort((a, b) => b.span.start - a.span.start)
    .reduce((all, { span, text: value }) => all.slice(0, span.start) + value + all.slice(span.end), text);
}

/** A variant's own value where it gives one, else the default. */
function writtenValue({ variant }: ResolvedAppliance, { name, node }: ResolvedParameter): Expression | undefined {
  return variant?.values.find((one) => one.name?.text === name)?.value ?? node.value;
}

/** The unit that the default is written in, else the one in which such values are shown. */
function unitOf({ node, value }: ResolvedParameter, text: string): string {
  const written = node.value?.kind === 'quantity' ? node.value.unit?.span : undefined;
  if (written) return text.slice(written.start, written.end);
  return value ? displayUnit(value) : '';
}

function inUnit({ value }: Quantity, unit: string): number {
  return Number((value / (unit === '' ? 1 : unitFactor(unit))).toPrecision(12));
}

/** About a hundred steps over the range: 1, 2 or 5 times a power of ten. */
function stepOf(range: number): number {
  const power = 10 ** Math.floor(Math.log10(range / 100));
  const factor = range / 100 / power;
  return power * (factor < 1.5 ? 1 : factor < 3.5 ? 2 : 5);
}
