/** Shapes and curves as JSON: places in mm, stations along the wire, a column of values per curve in N, N mm and mm. */
import type { ActivationCurves } from '#model/activation-curves';
import type { NamedShape } from './shapes';

export function shapesAndCurvesJson(
  name: string,
  shapes: readonly NamedShape[],
  curves: ActivationCurves | undefined,
): string {
  const numbers = (values: readonly (number | undefined)[]) =>
    values.map((value) => (value === undefined ? null : Number(value.toFixed(6)) + 0));
  const content = {
    appliance: name,
    frame: 'x mesial, y gingival, z buccal; mm from the middle of the first seat',
    shapes: shapes.map(({ name: shape, outline: { stations, points } }) => ({
      shape,
      stations: numbers(stations),
      points: stations.map((_, k) => numbers(points.slice(3 * k, 3 * k + 3))),
    })),
    activations: numbers(curves?.activations ?? []),
    curves: (curves?.charts ?? []).flatMap(({ curves: own }) =>
      own.map(({ expression, values, friction }) => ({
        expression,
        values: numbers(values),
        ...(friction && { least: numbers(friction.least), most: numbers(friction.most) }),
      })),
    ),
  };
  return `${JSON.stringify(content, undefined, 2)}\n`;
}
