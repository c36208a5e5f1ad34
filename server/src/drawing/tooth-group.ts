/**
 * A group of teeth in one view: its centre of resistance, the line of the pull there, and the point about which it would turn.
 * Drawn in the plane in which it tips; seen from elsewhere only the centre is shown.
 */
import type { ToothGroup } from '#core/design';
import { addScaled, column, type Vec3 } from '#core/math/vector';
import type { GroupFigures } from '#model/tooth-movement';
import type { Label, Obstacle } from './labels';
import { coordinate, element } from './svg';
import { type Projection, project } from './view';

export interface DrawnGroup {
  readonly svg: string;
  readonly obstacles: readonly Obstacle[];
  readonly label: Label;
}

/**
 * @param figures  of the state shown; undefined where there is none
 * @param seats  canvas places of its attachments
 * @param tips  whether the view shows the plane in which it tips along the arch
 */
export function drawToothGroup(
  group: ToothGroup,
  figures: GroupFigures | undefined,
  seats: readonly (readonly [number, number])[],
  projection: Projection,
  tips: boolean,
): DrawnGroup {
  const { x, y } = project(projection, group.resistance);
  const pivot = tips ? pivotOf(group, figures, projection) : undefined;
  const line = tips ? lineOf(group, figures, projection) : undefined;
  const obstacles: Obstacle[] = [{ x, y, radius: SIZE + 2 }];
  if (pivot) obstacles.push({ x: pivot[0], y: pivot[1], radius: SIZE });
  const cross = `M${coordinate(x - SIZE)} ${coordinate(y)}H${coordinate(x + SIZE)}M${coordinate(x)} ${coordinate(y - SIZE)}V${coordinate(y + SIZE)}`;
  return {
    svg: element(
      'g',
      { class: 'tooth-group' },
      ...seats.map(([sx, sy]) =>
        element('path', {
          class: 'stem',
          d: `M${coordinate(sx)} ${coordinate(sy)}L${coordinate(x)} ${coordinate(y)}`,
        }),
      ),
      line
        ? element('path', {
            class: 'pull-line',
            d: `M${coordinate(line[0][0])} ${coordinate(line[0][1])}L${coordinate(line[1][0])} ${coordinate(line[1][1])}`,
          })
        : '',
      element('circle', { class: 'resistance', cx: coordinate(x), cy: coordinate(y), r: SIZE }),
      element('path', { class: 'resistance', d: cross }),
      pivot
        ? element('circle', { class: 'pivot', cx: coordinate(pivot[0]), cy: coordinate(pivot[1]), r: SIZE - 1 }) +
            element('circle', { class: 'pivot dot', cx: coordinate(pivot[0]), cy: coordinate(pivot[1]), r: 1.6 })
        : '',
    ),
    obstacles,
    label: {
      class: 'group',
      lines: [group.name, ...(tips && figures?.along ? [figures.along.kind] : [])],
      anchor: [x, y],
      toward: [0, -1],
      distance: SIZE + 5,
    },
  };
}

/** Canvas units. */
const SIZE = 6;
/** Above a centre of resistance, mm; a centre of rotation further away is not drawn. */
export const PIVOT_ROOM = 3;
/** A line of the pull further away is not drawn, mm. */
const FARTHEST = 12;
/** Half the length that is drawn of the line of the pull, mm. */
const HALF_LINE = 4;

function pivotOf(
  { resistance, axes }: ToothGroup,
  figures: GroupFigures | undefined,
  projection: Projection,
): readonly [number, number] | undefined {
  const centre = figures?.along?.rotationCentre;
  if (centre === undefined || Math.abs(centre) > PIVOT_ROOM) return undefined;
  const { x, y } = project(projection, addScaled(resistance, column(axes, 1), centre));
  return [x, y];
}

function lineOf(
  { resistance, axes }: ToothGroup,
  figures: GroupFigures | undefined,
  projection: Projection,
): readonly (readonly [number, number])[] | undefined {
  const away = figures?.along?.lineOfAction;
  if (away === undefined || Math.abs(away) > FARTHEST) return undefined;
  const middle: Vec3 = addScaled(resistance, column(axes, 1), -away);
  return [-HALF_LINE, HALF_LINE].map((along) => {
    const { x, y } = project(projection, addScaled(middle, column(axes, 0), along));
    return [x, y] as const;
  });
}
