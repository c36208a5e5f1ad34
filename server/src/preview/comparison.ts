/** The headline figures of several appliances of a file, a column for each. */

import type { StageResult } from '#core/analysis/analysis';
import { FORCE, LENGTH, MOMENT, NUMBER, STIFFNESS } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import { effects } from '#model/effects';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { PreviewComparison } from './view';

export interface ComparedAppliance {
  readonly shown: SnapshotAppliance;
  readonly stage: StageResult | undefined;
  /** As on its line in the drawing. */
  readonly number: number | undefined;
}

/** Rows that none of them has are left out; a figure that one of them has not is "–". */
export function previewComparison(all: readonly ComparedAppliance[], units: UnitPreferences): PreviewComparison {
  const show = (value: number | undefined, dimension: Dimension): string | undefined =>
    value === undefined ? undefined : formatQuantity({ value, dimension }, units);
  const row = (label: string, cell: (one: ComparedAppliance) => string | undefined) => {
    const cells = all.map(cell);
    return cells.some((text) => text !== undefined) ? [{ label, cells: cells.map((text) => text ?? '–') }] : [];
  };
  const attachments = [...new Set(all.flatMap(({ shown }) => shown.design?.attachments.map(({ name }) => name) ?? []))];
  return {
    headings: all.map(({ shown: { appliance, stale }, number }) =>
      [number, appliance.name, stale ? '(earlier)' : undefined].filter((part) => part !== undefined).join(' '),
    ),
    rows: [
      ...row('activation', ({ shown, stage }) =>
        shown.design?.activation ? show(stage?.activation, LENGTH) : stage && 'engaged',
      ),
      ...row('requirements', ({ shown: { verdicts } }) => {
        const met = verdicts.filter(({ outcome }) => outcome === 'met').length;
        return verdicts.length > 0 ? `${met} of ${verdicts.length} met` : undefined;
      }),
      ...row('wire', ({ shown }) => show(shown.analysis?.developedLength, LENGTH)),
      ...row('neutral at', ({ shown: { design, analysis } }) =>
        design?.activation ? show(analysis?.neutral?.motion, LENGTH) : undefined,
      ),
      ...row(
        'stiffness',
        ({ shown: { analysis }, stage }) =>
          stage && show(analysis?.stiffness[analysis.stages.indexOf(stage)], STIFFNESS),
      ),
      ...row('elastic use', ({ stage }) => show(stage?.state?.elasticUse, NUMBER)),
      ...attachments.flatMap((name) =>
        (['force', 'moment'] as const).flatMap((kind) =>
          row(`${name} ${kind}`, (one) =>
            effectWords(one, name, kind, (value) => show(value, kind === 'force' ? FORCE : MOMENT) ?? ''),
          ),
        ),
      ),
    ],
  };
}

/** "122 gf distal,\n38.8 gf gingival": what is much less than the largest of its kind is left out. */
function effectWords(
  { shown, stage }: ComparedAppliance,
  name: string,
  kind: 'force' | 'moment',
  show: (value: number) => string,
): string | undefined {
  const index = shown.design?.attachments.findIndex((one) => one.name === name) ?? -1;
  const wrenches = stage?.state?.wrenches;
  if (index < 0 || !wrenches) return undefined;
  const largest = Math.max(...wrenches.flatMap((wrench) => wrench[kind].map(Math.abs)));
  const acting = effects(wrenches[index]).filter(
    (effect) => effect.kind === kind && effect.amount > NEGLIGIBLE * largest,
  );
  return acting.map((effect) => `${show(effect.amount)} ${effect.name.replace('_', '-')}`).join(',\n') || `no ${kind}`;
}

/** Part of the largest of its kind in the appliance, as in the drawing. */
const NEGLIGIBLE = 0.02;
