/** Parameters with a range as the preview offers them, and what becomes of the text when they are given other values. */
import { displayUnit } from '#core/units/format';
import type { Quantity } from '#core/units/quantity';
import { unitFactor } from '#core/units/unit';
import type { Expression, Span } from '#grammar/tree';
import type { ResolvedAppliance, ResolvedParameter } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import type { PreviewParameter } from './protocol';

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
