/** Where an expression stands, and how it is spoken of. */
import type { Expression, MemberExpression } from '#grammar/tree';
import type { Recorder, Scope } from '../names/scope';
import type { Definition } from '../resolved';
import type { Value } from './value';

/** Where an expression stands. */
export interface Place {
  readonly scope: Scope;
  readonly recorder: Recorder;
  /** Text of the file in which the expression is written, to quote from. */
  readonly text: string;
  /** Value of a dotted name. Records its problems itself. */
  member(expression: MemberExpression, place: Place): Value | undefined;
}

/** The expression's text as written. */
export function quote(expression: Expression, place: Place): string {
  return place.text.slice(expression.span.start, expression.span.end);
}

/** "a part", "an alloy", … */
export function kindPhrase(kind: Definition['kind']): string {
  const word = kind === 'let' ? 'named value' : kind === 'auxiliary' ? 'auxiliary wire' : kind;
  return `${/^[aeiou]/.test(word) ? 'an' : 'a'} ${word}`;
}
