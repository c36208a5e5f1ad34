/** The bands of an appliance as a table: each figure, how far it spreads, and what makes it spread. */
import { ANGLE, FORCE, LENGTH, MOMENT, NUMBER, STIFFNESS } from '#core/units/dimension';
import { formatBand, type UnitPreferences } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import { senses } from '#model/effects';
import { amount } from './quantities';
import type { ReportAppliance, ReportBand, ReportBands, ReportStage } from './schema';
import { table } from './table';

export function bandLines(appliance: ReportAppliance, units: UnitPreferences): string[] {
  const { bands } = appliance;
  const stage = appliance.stages.find(({ activation }) => activation === bands?.activation);
  if (bands === null || stage?.state === undefined || stage.state === null) return [];
  const rows = [...loadRows(bands, stage.state, units), ...otherRows(bands, appliance, stage, units)];
  const { unsolved, solved } = bands.wires;
  return [
    '',
    `  Bands${appliance.activation === null ? '' : ` at ${amount(bands.activation, 'length')} of activation`}, about 19 of 20 wires, and what makes most of them`,
    ...table(rows, ['<', '<', '<', '<'], '    '),
    ...(rows.some(([, , figure]) => figure.endsWith(SAMPLED))
      ? [`    ${SAMPLED.trim()} from sampled wires: the single effects do not add up`]
      : []),
    ...(unsolved > 0
      ? [`    ${unsolved} of ${solved + unsolved} varied wires have no such state and are left out`]
      : []),
  ];
}

const SAMPLED = ' ~';

type State = NonNullable<ReportStage['state']>;

/** Components that come near to nothing anyway are left to the JSON report: N and N mm, below what a gauge shows. */
const leastShown = { force: 0.005, moment: 0.05 } as const;

function loadRows(bands: ReportBands, state: State, units: UnitPreferences): string[][] {
  return bands.loads.flatMap(({ attachment, ...load }, index) =>
    (['force', 'moment'] as const).flatMap((kind) =>
      (['mesial', 'gingival', 'buccal'] as const).flatMap((axis, k) => {
        const value = state.loads[index][kind][axis];
        const band = load[kind][axis];
        if (Math.max(Math.abs(value), band.high, -band.low) < leastShown[kind]) return [];
        // Named and counted in the sense in which it acts.
        const name = senses[kind][k][value < 0 ? 1 : 0].replace('_', '-');
        const dimension = kind === 'force' ? FORCE : MOMENT;
        return [row(attachment, name, Math.abs(value), value < 0 ? turned(band) : band, dimension, bands, units)];
      }),
    ),
  );
}

function otherRows(
  bands: ReportBands,
  appliance: ReportAppliance,
  stage: ReportStage,
  units: UnitPreferences,
): string[][] {
  const { state } = stage;
  if (state === null) return [];
  const line = (
    owner: string,
    name: string,
    value: number | undefined,
    band: ReportBand | null,
    dimension: Dimension,
  ) => (band === null || value === undefined ? [] : [row(owner, name, value, band, dimension, bands, units)]);
  return [
    ...bands.loops.flatMap(({ name, legGap, legAngle }, index) => [
      ...line(name, 'leg gap', state.loops[index].legGap, legGap, LENGTH),
      ...line(name, 'leg angle', radians(state.loops[index].legAngle), inRadians(legAngle), ANGLE),
    ]),
    ...line('activation', 'neutral', appliance.neutral?.motion, bands.neutral, LENGTH),
    ...line('', 'stiffness', stage.stiffness ?? undefined, bands.stiffness, STIFFNESS),
    ...line('wire', 'elastic use', state.stress.elasticUse, bands.elasticUse, NUMBER),
  ];
}

function row(
  owner: string,
  name: string,
  value: number,
  band: ReportBand,
  dimension: Dimension,
  { parameters }: ReportBands,
  units: UnitPreferences,
): string[] {
  const causes = band.contributions.map(({ parameter, share }) => {
    const { label, line } = parameters[parameter];
    return `${Math.round(100 * share)} % ${label}${line === null ? '' : `, line ${line}`}`;
  });
  const figure = formatBand({ value, dimension }, band, units);
  return [owner, name, band.method === 'sampled' ? `${figure}${SAMPLED}` : figure, causes.join('; ')];
}

function turned({ low, high, ...band }: ReportBand): ReportBand {
  return { ...band, low: -high, high: -low };
}

function inRadians(band: ReportBand): ReportBand {
  return { ...band, low: radians(band.low), high: radians(band.high) };
}

function radians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
