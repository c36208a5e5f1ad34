/** Reads where an appliance says that it sits. */
import type { Site as WrittenSite } from '#grammar/tree';
import { unknownDirection } from '../diagnostics/unknown-direction';
import { nearest } from '../names/nearest';
import type { Recorder } from '../names/scope';
import { type Site, USUAL_SITE } from '../site';

const ARCHES = ['upper', 'lower'] as const;
const SIDES = ['left', 'right'] as const;

export function resolveSite(site: WrittenSite | undefined, recorder: Recorder): Site {
  if (!site) return USUAL_SITE;
  const oneOf = <T extends string>(name: typeof site.arch, known: readonly T[]): T | undefined => {
    const found = known.find((word) => word === name?.text);
    if (name && !found) {
      recorder.problem(unknownDirection.at(name.span, name.text, nearest(name.text, known), known));
    }
    return found;
  };
  const arch = oneOf(site.arch, ARCHES) ?? 'upper';
  if (site.kind === 'arch') return { kind: 'arch', arch, side: undefined };
  return { kind: 'quadrant', arch, side: oneOf(site.side, SIDES) ?? 'right' };
}
