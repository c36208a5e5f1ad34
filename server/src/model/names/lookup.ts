/** Looks names of parts, alloys, sections and slots up, and gives the place where a definition is at home. */
import type { Name } from '#grammar/tree';
import { unknownName } from '../diagnostics/unknown-name';
import { wrongKindOfName } from '../diagnostics/wrong-kind-of-name';
import { kindPhrase, type Place } from '../expression/evaluate-expression';
import { fileMember } from '../expression/member';
import type { Definition, Home } from '../resolved';
import { nearest } from './nearest';
import { find, namesInReach, SILENT } from './scope';

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

/** The file level of a definition's own file; its problems have been recorded when that file was resolved. */
export function placeAtHome(home: Home): Place {
  return { scope: home.scope, recorder: SILENT, text: home.text, member: fileMember };
}
