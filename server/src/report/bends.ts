/** Springback of every bend: as data and as lines of the text report, each different bend once. */
import { formedBends } from '#model/formed-bends';
import type { ResolvedAppliance } from '#model/resolved';
import { amount, degrees } from './quantities';
import { rounded } from './rounded';
import type { ReportBend } from './schema';
import { table } from './table';
import type { TextPosition } from './text-position';

export function reportBends(appliance: ResolvedAppliance, at: (offset: number) => TextPosition): ReportBend[] {
  return formedBends(appliance).flatMap(({ step, left, load, back }): ReportBend[] => {
    const { kind } = step;
    if (kind !== 'bend' && kind !== 'preactivate' && kind !== 'helix') return [];
    return [
      {
        kind,
        line: at(step.pathSpan.start).line,
        from: rounded(step.from),
        to: rounded(step.to),
        direction: step.direction ?? null,
        angle: inDegrees(left.angle),
        radius: rounded(left.radius),
        formedAngle: inDegrees(load.angle),
        formedRadius: rounded(load.radius),
        backTo: back === undefined ? null : inDegrees(back),
      },
    ];
  });
}

export function bendLines(bends: readonly ReportBend[]): readonly string[] {
  if (bends.length === 0) return [];
  const counts = new Map<string, { readonly bend: ReportBend; count: number }>();
  for (const bend of bends) {
    const key = [bend.kind, bend.angle, bend.radius, bend.formedAngle, bend.backTo].join();
    const known = counts.get(key);
    if (known) known.count += 1;
    else counts.set(key, { bend, count: 1 });
  }
  const rows = [...counts.values()].map(({ bend, count }) => [
    `${count} ×`,
    words[bend.kind],
    ...sizes(bend, bend.angle, bend.radius),
    bend.kind === 'helix' ? 'wind' : 'bend to',
    ...sizes(bend, bend.formedAngle, bend.formedRadius),
    bend.backTo === null ? '' : `and back to ${degrees(bend.backTo)}`,
  ]);
  return [
    '',
    '  Springback: what is to be left, and what to bend to (estimate; check against a print)',
    ...table(rows, ['>', '<', '>', '<', '<', '>', '<', '<'], '    '),
  ];
}

const words: Record<ReportBend['kind'], string> = { bend: 'bend', preactivate: 'preactivation', helix: 'helix' };

/** A helix is wound by turns round a diameter. */
function sizes({ kind }: ReportBend, angle: number, radius: number): [string, string] {
  return kind === 'helix'
    ? [`${Number((angle / 360).toPrecision(3))} turns`, `diameter ${amount(2 * radius, 'length')}`]
    : [degrees(angle), `radius ${amount(radius, 'length')}`];
}

function inDegrees(angle: number): number {
  return rounded((angle * 180) / Math.PI);
}
