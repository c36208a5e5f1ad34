/** Readings on how far figures spread, and at which line of the path the pliers matter. */
import { FORCE, MOMENT } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { type Bands, type Influence, influences, leading, opposite } from '#model/bands';
import { type Effect, senses } from '#model/effects';
import { DEFAULTS } from '#model/provenance';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';
import type { Reading } from './reading';

/** One for each item of the path that scatters; the line that matters most has a text of its own. None without bands. */
export function bandReadings({ bands, appliance }: SnapshotAppliance, { units }: Settings): Reading[] {
  if (bands === undefined) return [];
  return influences(bands).map((influence, rank) => ({
    ...{ span: influence.span, line: 'last', kind: 'bands', stale: false },
    text: rank === 0 && influence.share > 0 ? `most of the spread: ${percent(influence.share)}` : undefined,
    detail: influenceText(influence, rank, appliance.design?.attachments.map(({ name }) => name) ?? [], bands, units),
  }));
}

function influenceText(
  { parts }: Influence,
  rank: number,
  attachments: readonly string[],
  { figures }: Bands,
  units: Settings['units'],
): string {
  const [straight, bend] = [DEFAULTS.straight, DEFAULTS.bend].map(({ value }) => formatQuantity(value));
  const rows = parts.map(({ attachment, kind, axis, share, change }) => {
    const name = senses[kind][axis][figures.wrenches[attachment][kind][axis] < 0 ? 1 : 0].replace('_', '-');
    const size = formatQuantity({ value: change, dimension: kind === 'force' ? FORCE : MOMENT }, units);
    return `| ${attachments[attachment]} ${name} | ± ${size} | ${percent(share)} |`;
  });
  const careful = rank === 0 ? ' **This is where to be careful with the pliers.**' : '';
  return [
    `Bent to ± ${straight} and ± ${bend} (${DEFAULTS.bend.reference}; common practice), this moves:${careful}`,
    ['| | by | of its band |', '| --- | ---: | ---: |', ...rows].join('\n'),
  ].join('\n\n');
}

/** Of one component of an attachment's wrench, in the sense in which it acts. */
export function bandOfEffect(bands: Bands | undefined, attachment: number, { kind, axis, name }: Effect) {
  const band = bands?.bands.wrenches[attachment]?.[kind][axis];
  return band && (name === senses[kind][axis][1] ? opposite(band) : band);
}

/** "Most of the band: 42 % modulus of beta_titanium, 23 % straight of 6.6 mm." */
export function causes(band: Parameters<typeof leading>[0], bands: Bands): string {
  const named = leading(band, bands).map(({ size, share }) => `${percent(share)} ${size.label}${sourceOf(size)}`);
  return named.length === 0 ? '' : `Most of the band: ${named.join(', ')}.`;
}

function sourceOf({ pathSpan, reference }: ReturnType<typeof leading>[number]['size']): string {
  return pathSpan === undefined && reference !== undefined ? ` (${reference})` : '';
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
