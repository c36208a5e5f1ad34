/** Looks names of parts, alloys, sections, slots and attachments up. */
import type { Name } from '#grammar/tree';
import { unknownName } from '../diagnostics/unknown-name';
import { wrongKindOfName } from '../diagnostics/wrong-kind-of-name';
import { kindPhrase, type Place } from '../expression/place';
import type { Definition } from '../resolved';
import { nearest } from './nearest';
import { find, namesInReach } from './scope';

/** The definition of that kind, its use recorded; otherwise a problem. */
export function findOfKind(kind: Definition['kind'], name: Name, place: Place): Definition | undefined {
  const named = find(place.scope, name.text, [kind]);
  if (!named) {
    const known = namesInReach(place.scope, [kind]);
    place.recorder.problem(unknownName.at(name.span, kind, name.text, known, nearest(name.text, known)));
    return undefined;
  }
  place.recorder.reference(name.span, named.definition);
  if (named.definition.kind !== kind) {
    const actual = kindPhrase(named.definition.kind);
    place.recorder.problem(wrongKindOfName.at(name.span, name.text, actual, kindPhrase(kind)));
    return undefined;
  }
  return named.definition;
}
