/** Hover: what stands under the pointer means, is worth and comes from. */
import type { Hover, Position } from 'vscode-languageserver-types';
import { dimensionName } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { UNITS } from '#core/units/unit';
import type { MemberExpression, Span } from '#grammar/tree';
import type { Snapshot } from '#workspace/snapshot';
import { definitionDocumentation } from './documentation/definition';
import { componentNames, type ResultOwner, resultNames } from './documentation/results';
import {
  clauseDocumentation,
  directionDocumentation,
  functionDocumentation,
  type WordDocumentation,
  wordDocumentation,
} from './documentation/words';
import { offsetAt, rangeOf } from './positions';
import { attachmentReadings } from './readings/attachment';
import { loopReadings } from './readings/loop';
import type { Settings } from './settings';
import { tokenAt } from './token-at';
import { nodesAt, type TreeNode } from './tree-walk';

export function provideHover(snapshot: Snapshot, position: Position, settings: Settings): Hover | null {
  const offset = offsetAt(snapshot, position);
  const token = tokenAt(snapshot.text, offset);
  if (token === undefined) return null;
  const span = { start: token.startOffset, end: token.end };
  const nodes = nodesAt(snapshot.parse.tree, token.startOffset);
  const content =
    nameHover(snapshot, span, settings) ??
    resultHover(snapshot, span, nodes) ??
    wordHover(token.image, token.tokenType.name, nodes) ??
    valueHover(snapshot, span, nodes, settings);
  return content === undefined
    ? null
    : { contents: { kind: 'markdown', value: content }, range: rangeOf(snapshot, span) };
}

function nameHover(snapshot: Snapshot, span: Span, settings: Settings): string | undefined {
  const definition = snapshot.file.references.find((reference) => covers(reference.span, span))?.definition;
  if (definition === undefined) return undefined;
  const evaluated = snapshot.appliances.filter(({ appliance }) => snapshot.file.appliances.includes(appliance));
  const readings =
    definition.kind === 'attachment'
      ? evaluated.flatMap((one) => attachmentReadings(one, settings))
      : definition.kind === 'loop'
        ? evaluated.flatMap(loopReadings)
        : [];
  const details = readings
    .filter((reading) => reading.detail !== '' && covers(reading.span, definition.span))
    .map(({ detail, stale }) => (stale ? `Of the last whole text: ${detail}` : detail));
  return [definitionDocumentation(definition, snapshot, settings.units), ...details].join('\n\n');
}

/** Names after a dot: `canine.force.distal`, `wire.stress`. */
function resultHover({ file }: Snapshot, span: Span, nodes: readonly TreeNode[]): string | undefined {
  const member = nodes.find((node): node is MemberExpression => node.kind === 'member');
  if (member === undefined) return undefined;
  const place = member.path.findIndex((name) => covers(name.span, span));
  const name = member.path[place]?.text;
  const first = member.path[0];
  const owner = file.references.find((reference) => covers(reference.span, first.span))?.definition.kind ?? first.text;
  if (place === 0) return wordDocumentation[name] && describeWord(wordDocumentation[name]);
  const known =
    place === 1
      ? resultNames[owner as ResultOwner]
      : componentNames[member.path[1].text as keyof typeof componentNames];
  const meaning = known?.find((result) => result.name === name)?.meaning;
  return meaning === undefined ? undefined : `\`${member.path.map(({ text }) => text).join('.')}\`\n\n${meaning}`;
}

function wordHover(image: string, tokenType: string, nodes: readonly TreeNode[]): string | undefined {
  if (tokenType === 'Unit') {
    const unit = UNITS.get(image);
    return unit && `**${image}**: ${unit.meaning} (${dimensionName(unit.dimension)})`;
  }
  if (tokenType === 'Direction') return `**${image}**\n\n${directionDocumentation[image]}`;
  if (tokenType === image) {
    const inAttachment = nodes.some(({ kind }) => kind === 'attachment');
    const documentation = (inAttachment ? clauseDocumentation[image] : undefined) ?? wordDocumentation[image];
    return documentation && describeWord(documentation);
  }
  const call = nodes.findLast(({ kind }) => kind === 'function') as { name?: { text: string } } | undefined;
  return call?.name?.text === image && functionDocumentation[image] !== undefined
    ? describeWord(functionDocumentation[image])
    : undefined;
}

/** The value of the smallest evaluated expression under the pointer. */
function valueHover(
  { file }: Snapshot,
  span: Span,
  nodes: readonly TreeNode[],
  { units }: Settings,
): string | undefined {
  const spans = nodes.map((node) => `${node.span.start}:${node.span.end}`);
  const evaluated = file.evaluated
    .filter((one) => covers(one.span, span) && spans.includes(`${one.span.start}:${one.span.end}`))
    .sort((left, right) => left.span.end - left.span.start - (right.span.end - right.span.start))[0];
  if (evaluated === undefined) return undefined;
  const { value } = evaluated;
  return `${formatQuantity(value, units)}, ${dimensionName(value.dimension)}`;
}

function describeWord({ form, meaning }: WordDocumentation): string {
  return `\`\`\`springwright\n${form}\n\`\`\`\n\n${meaning}`;
}

function covers(outer: Span, inner: Span): boolean {
  return outer.start <= inner.start && inner.end <= outer.end;
}
