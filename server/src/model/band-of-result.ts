/** The band of a named result, where it has one. */
import type { Band } from '#core/analysis/uncertainty';
import { type Bands, opposite } from './bands';
import { senses } from './effects';
import type { ResultOwner } from './results';

/** `path` is what follows the owner's name, e.g. `force`, `distal`; `index` that of the attachment or loop. */
export function bandOfResult(
  { bands }: Bands,
  owner: ResultOwner,
  index: number,
  path: readonly string[],
): Band | undefined {
  const [first, second] = path;
  switch (owner) {
    case 'attachment':
      return first === 'force' || first === 'moment' ? component(bands.wrenches[index], first, second) : undefined;
    case 'loop':
      if (first === 'leg_gap') return bands.loops[index]?.legGap;
      return first === 'leg_angle' ? bands.loops[index]?.legAngle : undefined;
    case 'wire':
      if (first === 'stress') return bands.stress;
      return first === 'elastic_use' ? bands.elasticUse : undefined;
    case 'load':
    case 'group':
    case 'plan':
      return undefined;
    case 'activation':
      return first === 'neutral' ? bands.neutral : undefined;
  }
}

function component(
  wrench: Bands['bands']['wrenches'][number] | undefined,
  kind: 'force' | 'moment',
  name: string | undefined,
): Band | undefined {
  for (const axis of [0, 1, 2] as const) {
    const [positive, negative] = senses[kind][axis];
    if (name === positive) return wrench?.[kind][axis];
    if (name === negative) return wrench && opposite(wrench[kind][axis]);
  }
  return undefined;
}
