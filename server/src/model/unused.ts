/** Parameters and parts that nothing uses. */
import type { Parameter, SourceFile, Span } from '#grammar/tree';
import { unusedParameter } from './diagnostics/unused-parameter';
import { unusedPart } from './diagnostics/unused-part';
import type { Problem } from './problem';
import type { Definition, Reference } from './resolved';

export function unusedNames(tree: SourceFile, references: readonly Reference[]): Problem[] {
  const uses = usesOf(references);
  return [...unusedParameters(tree, uses), ...unusedParts(tree, uses)];
}

/** Where each definition's node is spoken of, itself included. */
type Uses = ReadonlyMap<Definition['node'], readonly Span[]>;

function usesOf(references: readonly Reference[]): Uses {
  const uses = new Map<Definition['node'], Span[]>();
  for (const { span, definition } of references) {
    const known = uses.get(definition.node);
    if (known) known.push(span);
    else uses.set(definition.node, [span]);
  }
  return uses;
}

/** Parameters that nothing in their own part or appliance, or its auxiliary wires, refers to. */
function unusedParameters(tree: SourceFile, uses: Uses): Problem[] {
  return tree.items.flatMap((item) => {
    if (item.kind === 'part') return unusedIn([item.span], item.parameters, uses);
    if (item.kind !== 'appliance') return [];
    const parameters = item.members.filter((member): member is Parameter => member.kind === 'parameter');
    const further = tree.items.filter(
      (other) => other.kind === 'appliance' && item.name && other.auxiliary?.base?.text === item.name.text,
    );
    return unusedIn([item.span, ...further.map(({ span }) => span)], parameters, uses);
  });
}

function unusedIn(owners: readonly Span[], parameters: readonly Parameter[], uses: Uses): Problem[] {
  return parameters.flatMap((parameter) => {
    const { name } = parameter;
    // A second parameter of the same name has its own problem.
    if (!name || parameters.find((other) => other.name?.text === name.text) !== parameter) return [];
    const isInside = ({ start, end }: Span) => owners.some((owner) => start >= owner.start && end <= owner.end);
    const used = uses.get(parameter)?.some((span) => span.start !== name.span.start && isInside(span));
    return used ? [] : [unusedParameter.at(name.span, name.text)];
  });
}

/** Parts that no path of the file uses; a file without appliances is there for others. */
function unusedParts(tree: SourceFile, uses: Uses): Problem[] {
  if (!tree.items.some(({ kind }) => kind === 'appliance')) return [];
  return tree.items.flatMap((item) => {
    if (item.kind !== 'part' || !item.name) return [];
    const used = uses.get(item)?.some(({ start, end }) => start < item.span.start || end > item.span.end);
    return used ? [] : [unusedPart.at(item.name.span, item.name.text)];
  });
}
