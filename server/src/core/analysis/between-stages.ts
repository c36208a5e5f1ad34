/** A state between solved stages, for what moves on a screen: the cubic through the four nearest ones, figure by figure. */
import type { Vec3 } from '../math/vector';
import type { EngagedState, Wrench } from './analysis';

/**
 * Undefined outside the stages. It is no equilibrium: its error is of the fourth power of the distance between stages, that of
 * the outline besides of the second power of the distance between its points, where wire passes an attachment from stage to stage.
 */
export function stateBetween(stages: readonly EngagedState[], activation: number): EngagedState | undefined {
  const sorted = [...stages].sort((a, b) => a.activation - b.activation);
  const after = sorted.findIndex((one) => one.activation >= activation);
  if (after < 0 || activation < sorted[0].activation) return undefined;
  const first = Math.max(0, Math.min(after - 2, sorted.length - 4));
  const near = sorted.slice(first, first + 4);
  const [model] = near;
  const weights = near.map(({ activation: own }) =>
    near.reduce(
      (product, other) =>
        other.activation === own ? product : (product * (activation - other.activation)) / (own - other.activation),
      1,
    ),
  );
  const sum = (of: (state: EngagedState) => number): number =>
    near.reduce((total, state, k) => total + weights[k] * of(state), 0);
  const list = (of: (state: EngagedState) => readonly number[]): number[] =>
    of(model).map((_, i) => sum((state) => of(state)[i]));
  const vector = (of: (state: EngagedState) => Vec3): Vec3 =>
    [0, 1, 2].map((i) => sum((state) => of(state)[i])) as unknown as Vec3;
  /** At the first one's places on the wire itself: another stage has its points elsewhere where wire has been drawn. */
  const alongWire = (of: (state: EngagedState) => readonly number[], size: number): number[] => {
    const { stations } = model.outline;
    const total = new Array<number>(size * stations.length).fill(0);
    for (const [k, state] of near.entries()) {
      addAlongWire(total, weights[k], state.outline.stations, of(state), size, stations);
    }
    return total;
  };
  const wrench = (of: (state: EngagedState) => Wrench): Wrench => ({
    force: vector((state) => of(state).force),
    moment: vector((state) => of(state).moment),
  });
  return {
    ...model,
    activation,
    motion: sum(({ motion }) => motion),
    wrenches: model.wrenches.map((_, i) => wrench(({ wrenches }) => wrenches[i])),
    places: model.places.map((_, i) => vector(({ places }) => places[i])),
    slid: list(({ slid }) => slid),
    loads: model.loads.map((load, i) => ({
      ...load,
      force: sum(({ loads }) => loads[i].force),
      places: [vector(({ loads }) => loads[i].places[0]), vector(({ loads }) => loads[i].places[1])],
    })),
    stress: sum(({ stress }) => stress),
    stressStation: sum(({ stressStation }) => stressStation),
    elasticUse: sum(({ elasticUse }) => elasticUse),
    stresses: alongWire(({ stresses }) => stresses, 1),
    uses: alongWire(({ uses }) => uses, 1),
    ...(model.fibreStress !== undefined && { fibreStress: sum(({ fibreStress }) => fibreStress ?? 0) }),
    loops: model.loops.map((_, i) => ({
      legGap: sum(({ loops }) => loops[i].legGap),
      legAngle: sum(({ loops }) => loops[i].legAngle),
    })),
    outline: {
      stations: model.outline.stations,
      points: alongWire(({ outline }) => outline.points, 3),
      sides: alongWire(({ outline }) => outline.sides, 3),
    },
  };
}

/** Adds `size` numbers per station, `weight` times what they are at `places`, linear between two stations. Both rise. */
function addAlongWire(
  total: number[],
  weight: number,
  stations: readonly number[],
  values: readonly number[],
  size: number,
  places: readonly number[],
): void {
  let low = 0;
  for (let place = 0; place < places.length; place++) {
    while (low < stations.length - 2 && stations[low + 1] <= places[place]) low++;
    const length = stations[low + 1] - stations[low];
    const part = length > 0 ? Math.min(Math.max((places[place] - stations[low]) / length, 0), 1) : 0;
    for (let i = 0; i < size; i++) {
      total[size * place + i] += weight * ((1 - part) * values[size * low + i] + part * values[size * (low + 1) + i]);
    }
  }
}
