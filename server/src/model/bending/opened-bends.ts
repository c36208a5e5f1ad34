/**
 * Bends that the activation loads against the sense in which they were bent: the wire yields sooner there than when it is
 * bent on (Bauschinger effect, handbook 3.4). Preactivation is left out: straightening it is what engaging is.
 */
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import type { BendingTable } from '#core/forming/bending-table';
import { centreline, poseAt } from '#core/geometry/centreline';
import { column, cross, dot, norm, scale, subtract, type Vec3 } from '#core/math/vector';
import { DEFAULTS } from '../provenance';

interface Planned {
  readonly bends: readonly { readonly preactivation: boolean }[];
  readonly exact: BendingTable;
}

export interface OpenedBend {
  readonly kind: 'opened';
  readonly bend: number;
  readonly by: number;
  readonly activation: number;
}

/** Those that open by more than careful hand bending leaves uncertain anyway. */
export function bendsOpened(
  { elements, start }: ApplianceDesign,
  { bends, exact }: Planned,
  { outline, activation }: EngagedState,
): readonly OpenedBend[] {
  const line = centreline(elements, start, 1);
  const { stations, points, sides } = outline;
  // The free wire at the same stations, so that sampling takes the same from both.
  const free = stations.map((station) => poseAt(line, station));
  const engaged: Shape = {
    place: (k) => [points[3 * k], points[3 * k + 1], points[3 * k + 2]],
    side: (k) => [sides[3 * k], sides[3 * k + 1], sides[3 * k + 2]],
  };
  const passive: Shape = { place: (k) => free[k].position, side: (k) => column(free[k].axes, 2) };
  return exact.rows.flatMap((row, bend): OpenedBend[] => {
    if (row.kind === 'twist' || row.radius === 0 || bends[bend].preactivation) return [];
    // One that was bent back, or relieved of stress, has no last sense that it could be opened against.
    if (elements[row.element].forming?.furthest !== 1) return [];
    const from = line.stations[row.element];
    const within = stations.flatMap((station, k) =>
      station >= from - SAME_PLACE && station <= from + row.length + SAME_PLACE ? [k] : [],
    );
    const { shape } = elements[row.element];
    const axis: readonly [number, number] = [shape[1], shape[2]];
    const by = turnAlong(passive, within, axis) - turnAlong(engaged, within, axis);
    return by > DEFAULTS.bend.value.value ? [{ kind: 'opened', bend, by, activation }] : [];
  });
}

interface Shape {
  place(k: number): Vec3;
  side(k: number): Vec3;
}

/** Turn from chord to chord about the bend's axis, which is fixed to the section (its up and side part), rad. */
function turnAlong(shape: Shape, within: readonly number[], [up, side]: readonly [number, number]): number {
  let turn = 0;
  for (let i = 1; i + 1 < within.length; i++) {
    const [a, b, c] = [within[i - 1], within[i], within[i + 1]].map((k) => shape.place(k));
    const [before, after] = [subtract(b, a), subtract(c, b)];
    const lateral = shape.side(within[i]);
    const tangent = subtract(c, a);
    const vertical = scale(cross(lateral, tangent), 1 / norm(tangent));
    const axis: Vec3 = [0, 1, 2].map((k) => up * vertical[k] + side * lateral[k]) as unknown as Vec3;
    turn += Math.atan2(dot(cross(before, after), axis) / norm(axis), dot(before, after));
  }
  return turn;
}

/** mm */
const SAME_PLACE = 1e-6;
