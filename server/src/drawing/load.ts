/** Elastics, coil springs and ligatures in one view: a stretched band, a coil, a twisted wire, each with what it pulls by. */
import type { LoadState } from '#core/analysis/analysis';
import type { Load } from '#core/design';
import type { Label, Obstacle } from './labels';
import { element, polyline } from './svg';
import { type Projection, project } from './view';

export interface DrawnLoad {
  readonly svg: string;
  readonly obstacles: readonly Obstacle[];
  readonly label: Label;
}

/**
 * @param clearance  canvas distance from the line between its ends, so that it shows beside a wire that runs along it
 * @param lines  of its label: force and name
 */
export function drawLoad(
  { kind }: Load,
  { places, force }: LoadState,
  projection: Projection,
  clearance: number,
  lines: readonly string[],
): DrawnLoad {
  const [from, to] = places.map((place) => project(projection, place));
  const [across, along] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(across, along);
  // Seen end on it is a point.
  const normal = length > 0 ? ([-along / length, across / length] as const) : ([0, 1] as const);
  const at = (part: number, aside: number): readonly [number, number] => [
    from.x + part * across + aside * normal[0],
    from.y + part * along + aside * normal[1],
  ];
  const paths = strands(kind, length, clearance).map((strand) =>
    element('path', { d: polyline(strand.map(([part, aside]) => at(part, aside))), fill: 'none' }),
  );
  const upward = normal[1] > 0 ? -1 : 1;
  return {
    svg: element('g', { class: `load ${kind}${force === 0 ? ' slack' : ''}` }, ...paths),
    obstacles: [0, 0.25, 0.5, 0.75, 1].map((part) => ({ x: at(part, 0)[0], y: at(part, 0)[1], radius: clearance + 2 })),
    label: {
      class: 'pull',
      lines,
      anchor: at(0.5, upward * clearance),
      toward: [upward * normal[0], upward * normal[1]],
      distance: 8,
    },
  };
}

/** Points by their part of the way and their canvas distance aside. */
function strands(
  kind: Load['kind'],
  length: number,
  clearance: number,
): readonly (readonly (readonly [number, number])[])[] {
  if (kind === 'elastic')
    return [clearance, -clearance].map((aside) => [
      [0, 0],
      [Math.min(0.5, aside === 0 ? 0 : Math.abs(aside) / Math.max(length, 1)), aside],
      [Math.max(0.5, 1 - Math.abs(aside) / Math.max(length, 1)), aside],
      [1, 0],
    ]);
  if (kind === 'ligature')
    return [
      [
        [0, clearance],
        [1, clearance],
      ],
    ];
  const turns = Math.max(3, Math.round(length / PITCH));
  return [
    Array.from({ length: 4 * turns + 1 }, (_, k): readonly [number, number] => [
      k / (4 * turns),
      clearance * Math.sin((k * Math.PI) / 2),
    ]),
  ];
}

/** Canvas length of a coil. */
const PITCH = 7;
