import type { Parameter, SourceFile, Span } from '#grammar/tree';
import { unusedParameter } from './diagnostics/unused-parameter';
import { unusedPart } from './diagnostics/unused-part';
import type { Problem } from './problem';
import type { Reference } from './resolved';

/** Parameters that nothing in their own part or appliance refers to. */
export function unusedParameters(tree: SourceFile, references: readonly Reference[]): Problem[] {
  return tree.items.flatMap((item) => {
    if (item.kind === 'part') return unusedIn(item.span, item.parameters, references);
    if (item.kind !== 'appliance') return [];
    const parameters = item.members.filter((member): member is Parameter => member.kind === 'parameter');
    return unusedIn(item.span, parameters, references);
  });
}

function unusedIn(owner: Span, parameters: readonly Parameter[], references: readonly Reference[]): Problem[] {
  return parameters.flatMap((parameter) => {
    const { name } = parameter;
    // A second parameter of the same name has its own problem.
    if (!name || parameters.find((other) => other.name?.text === name.text) !== parameter) return [];
    const used = references.some(
      ({ span, definition }) =>
        definition.node === parameter &&
        span.start !== name.span.start &&
        span.start >= owner.start &&
        span.end <= owner.end,
    );
    return used ? [] : [unusedParameter.at(name.span, name.text)];
  });
}

/** Parts that no path of the file uses; a file without appliances is there for others. */
export function unusedParts(tree: SourceFile, references: readonly Reference[]): Problem[] {
  if (!tree.items.some(({ kind }) => kind === 'appliance')) return [];
  return tree.items.flatMap((item) => {
    if (item.kind !== 'part' || !item.name) return [];
    const used = references.some(
      ({ span, definition }) => definition.node === item && (span.start < item.span.start || span.end > item.span.end),
    );
    return used ? [] : [unusedPart.at(item.name.span, item.name.text)];
  });
}
