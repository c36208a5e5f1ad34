/** What would change which of two groups gives way: one more tooth tied into it. */
import { closureShare } from '#core/response/anchorage';
import type { ResolvedAppliance } from './resolved';
import { neighbour, type Tooth } from './teeth';
import { rootSurface } from './tooth-data';

export interface Reinforced {
  readonly tooth: Tooth;
  /** Part of the closure that the group would then make up. */
  readonly share: number;
}

/** With the next tooth that no group has, on whichever side of the group's own teeth its root is larger. */
export function reinforced({ design, groups, scope }: ResolvedAppliance, index: number): Reinforced | undefined {
  const own = design?.groups[index];
  const other = design?.groups[1 - index];
  const described = groups.find(({ name }) => name === own?.name);
  if (!own || !other || design.groups.length !== 2 || !described || own.rootArea === undefined) return undefined;
  const taken = new Set(groups.flatMap(({ teeth }) => teeth.map(({ number }) => number)));
  const positions = described.teeth.map(({ position }) => position);
  const [first] = described.teeth;
  const next = [Math.min(...positions) - 1, Math.max(...positions) + 1]
    .filter((position) => position >= 1 && position <= 7)
    .map((position) => neighbour(first, position))
    .filter(({ number }) => !taken.has(number))
    .flatMap((tooth) => {
      const surface = rootSurface(tooth, scope);
      return surface === undefined ? [] : [{ tooth, surface }];
    })
    .sort((a, b) => b.surface - a.surface)[0];
  if (!next) return undefined;
  const share = closureShare({ ...own, rootArea: own.rootArea + next.surface }, other);
  return share === undefined ? undefined : { tooth: next.tooth, share };
}
