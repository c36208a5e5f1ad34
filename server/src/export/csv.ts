/** Tables as comma-separated values (RFC 4180): a heading line, numbers with a point, lines that end with CR LF. */
import { FORCE, LENGTH, MOMENT, sameDimension } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import type { ActivationCurves } from '#model/activation-curves';
import type { NamedShape } from './shapes';

/** Points along the centre line: shape, station along the wire and place in the appliance's frame, mm. */
export function shapesCsv(shapes: readonly NamedShape[]): string {
  return table(
    ['shape', 'station_mm', 'mesial_mm', 'gingival_mm', 'buccal_mm'],
    shapes.flatMap(({ name, outline: { stations, points } }) =>
      stations.map((station, k) => [name, station, points[3 * k], points[3 * k + 1], points[3 * k + 2]]),
    ),
  );
}

/** A line per stage: activation from neutral, then a column per curve, in N, N mm and mm; least and most where friction leaves it open. */
export function curvesCsv({ activations, charts }: ActivationCurves): string {
  const columns = charts.flatMap(({ dimension, curves }) =>
    curves.flatMap(({ expression, values, friction }) => [
      { heading: `${expression}${unit(dimension)}`, values },
      ...(friction
        ? [
            { heading: `${expression} least${unit(dimension)}`, values: friction.least },
            { heading: `${expression} most${unit(dimension)}`, values: friction.most },
          ]
        : []),
    ]),
  );
  return table(
    ['activation_mm', ...columns.map(({ heading }) => heading)],
    activations.map((activation, k) => [activation, ...columns.map(({ values }) => values[k])]),
  );
}

function unit(dimension: Dimension): string {
  if (sameDimension(dimension, FORCE)) return ' [N]';
  if (sameDimension(dimension, MOMENT)) return ' [N mm]';
  return sameDimension(dimension, LENGTH) ? ' [mm]' : '';
}

function table(headings: readonly string[], rows: readonly (readonly (string | number | undefined)[])[]): string {
  return [headings, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

/** Six digits after the point are a nanometre, and a micronewton. */
function cell(value: string | number | undefined): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return String(Number(value.toFixed(6)) + 0);
  return /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
}
