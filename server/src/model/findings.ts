/** What comes up while a file, or one appliance of it, is resolved. */
import type { Span } from '#grammar/tree';
import { knownQuantity } from './expression/value';
import type { Recorder } from './names/scope';
import type { Problem } from './problem';
import type { EvaluatedExpression, Reference } from './resolved';

export interface Findings {
  readonly problems: readonly Problem[];
  readonly references: readonly Reference[];
  readonly evaluated: readonly EvaluatedExpression[];
}

/** Whether the same finding has been made in that file already. */
export type Reported = (uri: string, problem: Problem) => boolean;

/** Each place is recorded once; `reportedBefore` tells of findings that are kept elsewhere. */
export function collectFindings(uri: string, reportedBefore: Reported = () => false) {
  const problems: Problem[] = [];
  const references: Reference[] = [];
  const evaluated: EvaluatedExpression[] = [];
  const seenProblems = new Set<string>();
  const seenReferences = new Set<number>();
  const seenValues = new Set<number>();
  const isNew = <K>(seen: Set<K>, key: K) => {
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  };
  const recorder: Recorder = {
    problem(problem) {
      if (isNew(seenProblems, `${keyOf(problem.span)}:${problem.code}:${problem.message}`)) problems.push(problem);
    },
    reference(span, definition) {
      if (isNew(seenReferences, keyOf(span))) references.push({ span, definition });
    },
    evaluated(span, value) {
      const quantity = knownQuantity(value);
      if (quantity && isNew(seenValues, keyOf(span))) evaluated.push({ span, value: quantity });
    },
  };
  const add = (more: Findings): void => {
    for (const problem of more.problems) recorder.problem(problem);
    for (const one of more.references) if (isNew(seenReferences, keyOf(one.span))) references.push(one);
    for (const one of more.evaluated) if (isNew(seenValues, keyOf(one.span))) evaluated.push(one);
  };
  const reported: Reported = (file, problem) =>
    reportedBefore(file, problem) ||
    (file === uri &&
      problems.some((known) => known.code === problem.code && keyOf(known.span) === keyOf(problem.span)));
  return { problems, references, evaluated, recorder, add, reported };
}

/** One number per place, exact for texts of up to 64 Mi characters. */
function keyOf({ start, end }: Span): number {
  return start * 2 ** 26 + end;
}
