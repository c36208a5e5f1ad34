/**
 * What an appliance came to is taken over from the text before, where everything that it is written with is the same: then
 * only its place in the file can have changed.
 */
import type { Span } from '#grammar/tree';
import type { Problem } from '#model/problem';
import type { ResolvedAppliance, ResolvedFile } from '#model/resolved';
import type { Snapshot, SnapshotAppliance, SourceView } from './snapshot';

/** Whether what appliances can refer to, outside themselves, reads the same; `uses` are the uris of the modules used. */
export function sameSurroundings(
  previous: Snapshot,
  current: SourceView,
  uses: readonly string[],
  module: (uri: string) => { readonly file: ResolvedFile } | undefined,
): boolean {
  return (
    surroundings(previous) === surroundings(current) &&
    uses.every((uri) => previous.module(uri)?.file === module(uri)?.file)
  );
}

/** Undefined where it has to be evaluated again. Presumes the same surroundings. */
export function takenOver(
  appliance: ResolvedAppliance,
  text: string,
  earlier: SnapshotAppliance,
  earlierText: string,
): SnapshotAppliance | undefined {
  const items = itemsOf(appliance);
  const before = itemsOf(earlier.appliance);
  const by = items[0].start - before[0].start;
  const same =
    items.length === before.length &&
    items.every(
      (span, index) =>
        span.start - before[index].start === by && slice(text, span) === slice(earlierText, before[index]),
    );
  const conditions = appliance.requirements.flatMap((requirement) =>
    requirement.node.conditions.flatMap((condition) => (condition.test ? [{ requirement, condition }] : [])),
  );
  const hasDesign = appliance.design !== undefined && earlier.appliance.design !== undefined;
  if (earlier.stale || !same || !hasDesign || conditions.length !== earlier.verdicts.length) return undefined;
  const isWithin = ({ start, end }: Span) => before.some((item) => start >= item.start && end <= item.end);
  const own = (problem: Problem) => placesOf(problem, appliance.uri).every(isWithin);
  if (by !== 0 && !earlier.problems.every(own)) return undefined;
  return {
    ...earlier,
    appliance,
    verdicts: earlier.verdicts.map((verdict, index) => ({ ...verdict, ...conditions[index] })),
    problems: by === 0 ? earlier.problems : earlier.problems.map((problem) => moved(problem, by, appliance.uri)),
  };
}

/** Everything but the insides of appliances and variants. */
function surroundings({ text, file: { tree } }: SourceView): string {
  return tree.items
    .map((item) =>
      item.kind === 'appliance' || item.kind === 'variant' ? `${item.kind} ${item.name?.text}` : slice(text, item.span),
    )
    .join('\n');
}

/** Everything that an appliance is written in, itself first. */
function itemsOf({ node, variant, main, auxiliaries }: ResolvedAppliance): readonly Span[] {
  const others = [variant, main?.node, main?.variant, ...auxiliaries.map((one) => one.node)];
  return [node.span, ...others.flatMap((one) => (one ? [one.span] : []))];
}

function slice(text: string, { start, end }: Span): string {
  return text.slice(start, end);
}

function placesOf({ span, related = [], fixes = [] }: Problem, uri: string): Span[] {
  return [
    span,
    ...related.filter((place) => place.uri === uri).map((place) => place.span),
    ...fixes.flatMap(({ edits }) => edits.map((edit) => edit.span)),
  ];
}

function moved(problem: Problem, by: number, uri: string): Problem {
  const at = ({ start, end }: Span): Span => ({ start: start + by, end: end + by });
  const { span, related, fixes } = problem;
  return {
    ...problem,
    span: at(span),
    ...(related && { related: related.map((one) => (one.uri === uri ? { ...one, span: at(one.span) } : one)) }),
    ...(fixes && {
      fixes: fixes.map((fix) => ({ ...fix, edits: fix.edits.map((edit) => ({ ...edit, span: at(edit.span) })) })),
    }),
  };
}
