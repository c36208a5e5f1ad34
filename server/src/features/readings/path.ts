/** Readings along the path: how much wire is used up to here, and values that are not plain to see. */
import type { ApplianceDesign } from '#core/design';
import { ANGLE, LENGTH, NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Expression, PathItem, PathMember, Span } from '#grammar/tree';
import { formedBend } from '#model/formed-bends';
import type { PathStep, ResolvedAppliance } from '#model/resolved';
import { groupBy } from '../group-by';
import type { Reading } from './reading';

export function pathReadings(appliance: ResolvedAppliance): Reading[] {
  const path = appliance.node.members.find((member) => member.kind === 'path');
  if (path === undefined || appliance.steps.length === 0) return [];
  const items = new Map(path.body.map((item) => [key(item.span), item]));
  const steps = groupBy(appliance.steps, ({ pathSpan }) => key(pathSpan));
  return [
    developedLength(path, appliance.steps),
    ...[...steps].flatMap(([place, own]) => {
      const item = items.get(place);
      return item === undefined ? [] : stepReadings(item, own, appliance.design);
    }),
  ];
}

function developedLength(path: PathMember, steps: readonly PathStep[]): Reading {
  const length = formatLength(Math.max(...steps.map(({ to }) => to)));
  return {
    ...{ span: path.span, line: 'first', kind: 'lengths', stale: false },
    text: `${length} of wire`,
    detail: `Developed length: ${length} along the centre line.`,
  };
}

function stepReadings(item: PathItem, steps: readonly PathStep[], design: ApplianceDesign | undefined): Reading[] {
  const first = steps[0];
  const last = steps[steps.length - 1];
  const here = { span: item.span, line: 'last', stale: false } as const;
  const to = formatLength(last.to);
  if (item.kind === 'seat' || item.kind === 'mark' || item.kind === 'change' || item.kind === 'foot') {
    return [{ ...here, kind: 'lengths', text: `at ${to}`, detail: `${to} along the wire from its start.` }];
  }
  const used = last.to - first.from;
  const readings: Reading[] = [
    {
      ...{ ...here, kind: 'lengths', text: `→ ${to}` },
      detail: `${to} of wire from the start to the end of this step, which takes ${formatLength(used)}.`,
    },
  ];
  if (item.kind === 'straight' && !isPlain(item.length)) {
    readings.push({ ...here, kind: 'lengths', text: formatLength(used), detail: `Length: ${formatLength(used)}.` });
  }
  if ((item.kind === 'bend' || item.kind === 'twist') && first.angle !== undefined) {
    const angle = formatAngle(first.angle);
    readings.push({
      ...{ ...here, kind: 'angles', detail: `Angle: ${angle}.` },
      text: isPlain(item.angle) ? undefined : angle,
    });
  }
  if (item.kind === 'helix' && first.angle !== undefined && first.radius !== undefined) {
    const turns = turnsOf(first.angle);
    const sizes = `diameter ${formatLength(2 * first.radius)} to the centre line, ${formatLength(first.pitch ?? 0)} from turn to turn`;
    readings.push({
      ...{ ...here, kind: 'angles', detail: `${turns} turns, ${sizes}.` },
      text: isPlain(item.turns) ? undefined : `${turns} turns`,
    });
  }
  if (item.kind === 'bend' && first.radius !== undefined) {
    const radius = formatLength(first.radius);
    const usual = item.radius === undefined ? ', the usual for this wire in the plane of the bend' : '';
    readings.push({
      ...{ ...here, kind: 'radii', detail: `Radius: ${radius} to the centre line${usual}.` },
      text: item.radius === undefined || isPlain(item.radius) ? undefined : `radius ${radius}`,
    });
  }
  if ((item.kind === 'bend' || item.kind === 'helix') && design) {
    const detail = springback(first, design);
    if (detail) readings.push({ ...here, kind: 'angles', text: undefined, detail });
  }
  return readings;
}

/** How far to bend so that the written bend is left when the plier lets go. */
function springback(step: PathStep, design: ApplianceDesign): string | undefined {
  const formed = formedBend(step, design);
  if (!formed) return undefined;
  const { back } = formed;
  const { angle, radius } = formed.load;
  const how =
    step.kind === 'helix'
      ? `wind ${turnsOf(angle)} turns of diameter ${formatLength(2 * radius)}`
      : `bend to ${formatAngle(angle)} round a radius of ${formatLength(radius)}`;
  const then = back === undefined ? '' : `, and back to ${formatAngle(back)}`;
  return (
    `To be left with it, ${how} to the centre line${then}; it springs back (estimate for an elastic, perfectly plastic ` +
    'wire: check against a print).'
  );
}

function formatAngle(value: number): string {
  return formatQuantity({ value, dimension: ANGLE });
}

function turnsOf(angle: number): string {
  return formatQuantity({ value: angle / (2 * Math.PI), dimension: NUMBER });
}

/** A number with its unit says itself what it is. */
function isPlain(expression: Expression | undefined): boolean {
  return expression?.kind === 'quantity' || expression === undefined;
}

function formatLength(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

function key({ start, end }: Span): string {
  return `${start}:${end}`;
}
