/** How groups that are pulled toward each other share the closure of the space between them. */
import type { ToothGroup } from '../design';

/** Force over root surface, MPa (N/mm²); undefined where the surface is not known. */
export function rootPressure(force: number, { rootArea }: ToothGroup): number | undefined {
  return rootArea === undefined ? undefined : force / rootArea;
}

/**
 * The part of the closure that one of two groups makes up under equal and opposite forces, by the simple model of
 * displacements inverse to root surfaces (handbook 6.5, common practice).
 */
export function closureShare(own: ToothGroup, other: ToothGroup): number | undefined {
  if (own.rootArea === undefined || other.rootArea === undefined) return undefined;
  return other.rootArea / (own.rootArea + other.rootArea);
}
