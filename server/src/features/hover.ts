/** Hover: what stands under the pointer means, is worth and comes from. */
import type { Hover, Position } from 'vscode-languageserver-types';
import { stateBeside } from '#core/analysis/several-wires';
import { dimensionName, LENGTH } from '#core/units/dimension';
import { formatBand, formatQuantity } from '#core/units/format';
import { UNITS } from '#core/units/unit';
import { Direction, type Token, Unit } from '#grammar/tokens';
import type { MemberExpression, Name, Property, Span } from '#grammar/tree';
import { bandOfResult } from '#model/band-of-result';
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { WIRE_SIZES } from '#model/expression/member';
import { type NamedResult, ownersOf, RESULTS, type ResultOwner } from '#model/results';
import { ALLOY_PROPERTIES } from '#model/wire';
import type { Snapshot, SnapshotAppliance } from '#workspace/snapshot';
import { definitionDocumentation } from './documentation/definition';
import { groups, resultNamed } from './documentation/results';
import {
  clauseDocumentation,
  directionDocumentation,
  functionDocumentation,
  type WordDocumentation,
  wordDocumentation,
} from './documentation/words';
import { offsetAt, rangeOf } from './positions';
import { activationReadings } from './readings/activation';
import { assumptionReadings } from './readings/assumptions';
import { attachmentReadings } from './readings/attachment';
import { bandReadings, causes } from './readings/bands';
import { gaugeReadings } from './readings/gauge';
import { groupReadings } from './readings/group';
import { loadReadings } from './readings/load';
import { loopReadings } from './readings/loop';
import { pathReadings } from './readings/path';
import { type Reading, workingState } from './readings/reading';
import { variantReadings } from './readings/variant';
import { visitReadings } from './readings/visits';
import { wireReadings } from './readings/wire';
import type { Settings } from './settings';
import { isKeyword, tokenAt } from './token-at';
import { nodesAt, type TreeNode } from './tree-walk';

/** Whether the hover at this place tells of bands, which take hundreds of wires to compute. */
export function hoverShowsBands(snapshot: Snapshot, position: Position): boolean {
  const token = tokenAt(snapshot.text, offsetAt(snapshot, position));
  if (token === undefined) return false;
  const span = { start: token.startOffset, end: token.end };
  const definition = snapshot.file.references.find((reference) => covers(reference.span, span))?.definition;
  if (definition?.kind === 'attachment' || definition?.kind === 'loop') return true;
  return nodesAt(snapshot.parse.tree, token.startOffset).some(
    ({ kind, span: { start } }) => kind === 'member' || (start === span.start && beginsBanded.has(kind ?? '')),
  );
}

/** What has its bands told at the word that it begins with. */
const beginsBanded = new Set(['straight', 'bend', 'twist', 'helix', 'call', 'repeat', 'activation']);

export function provideHover(snapshot: Snapshot, position: Position, settings: Settings): Hover | null {
  const offset = offsetAt(snapshot, position);
  const token = tokenAt(snapshot.text, offset);
  if (token === undefined) return null;
  const span = { start: token.startOffset, end: token.end };
  const nodes = nodesAt(snapshot.parse.tree, token.startOffset);
  const content =
    nameHover(snapshot, span, settings) ??
    resultHover(snapshot, span, nodes, settings) ??
    propertyHover(nodes, span) ??
    wordHover(token, nodes) ??
    valueHover(snapshot, span, nodes, settings);
  const blocks = [content, lineHover(snapshot, span, settings), ...problemPages(snapshot, span)].filter(
    (block) => block !== undefined,
  );
  return blocks.length === 0
    ? null
    : { contents: { kind: 'markdown', value: blocks.join('\n\n---\n\n') }, range: rangeOf(snapshot, span) };
}

/** The pages of the problems at this place; their messages the editor shows itself. */
function problemPages({ problems }: Snapshot, span: Span): string[] {
  const codes = new Set(problems.filter((problem) => covers(problem.span, span)).map(({ code }) => code));
  return [...codes].flatMap((code) => {
    const page = DIAGNOSTICS.get(code);
    return page === undefined ? [] : [`**${page.title}** (\`${code}\`)\n\n${page.documentation}`];
  });
}

function nameHover(snapshot: Snapshot, span: Span, settings: Settings): string | undefined {
  const definition = snapshot.file.references.find((reference) => covers(reference.span, span))?.definition;
  if (definition === undefined) return undefined;
  const current = snapshot.appliances.filter(({ appliance }) => snapshot.file.appliances.includes(appliance));
  const evaluated = current.filter(({ appliance }) => !appliance.variant);
  const readings =
    definition.kind === 'variant'
      ? current.flatMap((one) => variantReadings(one, settings))
      : definition.kind === 'attachment'
        ? evaluated.flatMap((one) => attachmentReadings(one, settings))
        : definition.kind === 'loop'
          ? evaluated.flatMap(loopReadings)
          : definition.kind === 'load'
            ? evaluated.flatMap((one) => loadReadings(one, settings))
            : definition.kind === 'group'
              ? evaluated.flatMap((one) => groupReadings(one, settings))
              : [];
  const details = readings
    .filter((reading) => reading.detail !== '' && covers(reading.span, definition.span))
    .map(markedDetail);
  return [definitionDocumentation(definition, snapshot, settings.units), ...details].join('\n\n');
}

/** Names after a dot (`canine.force.distal`, `wire.stress`): what they stand for and come to at the working activation. */
function resultHover(
  snapshot: Snapshot,
  span: Span,
  nodes: readonly TreeNode[],
  { units }: Settings,
): string | undefined {
  const member = nodes.find((node): node is MemberExpression => node.kind === 'member');
  if (member === undefined) return undefined;
  const definitionOf = (name: Name) =>
    snapshot.file.references.find((reference) => covers(reference.span, name.span))?.definition;
  const isOfAuxiliary = definitionOf(member.path[0])?.kind === 'auxiliary';
  const path = isOfAuxiliary ? member.path.slice(1) : member.path;
  if (path.length === 0) return undefined;
  const place = path.findIndex((name) => covers(name.span, span));
  const [owner, ...rest] = path.map(({ text }) => text);
  if (place === 0) return wordDocumentation[owner] && describeWord(wordDocumentation[owner]);
  const definition = definitionOf(path[0]);
  const kind = resultOwner(definition?.kind ?? owner);
  const result = kind && resultNamed(kind, rest.slice(0, place));
  if (kind === undefined || result === undefined) {
    return figureHover(definition?.kind ?? owner, rest[0]) ?? groups[rest[place - 1]];
  }
  const auxiliary = isOfAuxiliary ? member.path[0].text : undefined;
  const named = [...(auxiliary ? [auxiliary] : []), owner, ...rest.slice(0, place)];
  const heading = `\`${named.join('.')}\`, ${dimensionName(result.dimension)}`;
  const evaluated = snapshot.appliances.find(
    ({ appliance }) => !appliance.variant && covers(appliance.node.span, span),
  );
  const value =
    evaluated && resultValue(evaluated, { auxiliary, kind, owner, result, path: rest.slice(0, place) }, units);
  return [heading, result.documentation, value].filter((line) => line !== undefined).join('\n\n');
}

/** A size of the wire that shapes are written in, or a figure of an alloy. */
function figureHover(owner: string, name: string): string | undefined {
  const size = owner === 'wire' ? WIRE_SIZES.get(name) : undefined;
  if (size !== undefined) return `\`wire.${name}\`, ${dimensionName(LENGTH)}\n\n${size.documentation}`;
  const figure = owner === 'alloy' ? ALLOY_PROPERTIES.get(name) : undefined;
  return figure && `\`${figure.example}\`, ${dimensionName(figure.dimension)}\n\n${figure.documentation}`;
}

/** A figure's name where an alloy gives its value. */
function propertyHover(nodes: readonly TreeNode[], span: Span): string | undefined {
  const property = nodes.find((node): node is Property => node.kind === 'property');
  return property?.name !== undefined && covers(property.name.span, span)
    ? figureHover('alloy', property.name.text)
    : undefined;
}

function resultOwner(kind: string): ResultOwner | undefined {
  return Object.hasOwn(RESULTS, kind) ? (kind as ResultOwner) : undefined;
}

interface WrittenResult {
  /** The auxiliary wire that it is of; absent for the appliance's own and for what all wires do together. */
  readonly auxiliary: string | undefined;
  readonly kind: ResultOwner;
  readonly owner: string;
  readonly result: NamedResult;
  readonly path: readonly string[];
}

function resultValue(
  evaluated: SnapshotAppliance,
  { auxiliary, kind, owner, result, path }: WrittenResult,
  units: Settings['units'],
): string | undefined {
  const { design, analysis, stale, bands } = evaluated;
  const state = workingState(evaluated);
  if (design === undefined || analysis === undefined || state === undefined) return undefined;
  const wire = evaluated.further.find(({ name }) => name === auxiliary);
  const shown = auxiliary === undefined ? state : wire && stateBeside(wire, state.motion);
  if (shown === undefined) return undefined;
  const source = wire ?? { design, analysis };
  const index = ownersOf(kind, source.design).findIndex(({ name }) => name === owner);
  const value = result.get({ design: source.design, analysis: source.analysis, state: shown, index });
  if (value === undefined) return undefined;
  const at = design.activation === undefined ? '' : ` at ${formatLength(state.activation)} from neutral`;
  const quantity = { value, dimension: result.dimension };
  const band = bands && bandOfResult(bands, kind, index, path);
  if (bands !== undefined && band !== undefined) {
    return `${formatBand(quantity, band, units)}${at}; in brackets where about 19 of 20 wires lie. ${causes(band, bands)}`;
  }
  return `${formatQuantity(quantity, units)}${at}${stale ? ', of the last whole text' : ''}`;
}

function wordHover(token: Token, nodes: readonly TreeNode[]): string | undefined {
  const { image, tokenType } = token;
  if (tokenType === Unit) {
    const unit = UNITS.get(image);
    return unit && `**${image}**: ${unit.meaning} (${dimensionName(unit.dimension)})`;
  }
  if (tokenType === Direction) return `**${image}**\n\n${directionDocumentation[image]}`;
  if (isKeyword(token)) {
    const inAttachment = nodes.some(({ kind }) => kind === 'attachment' || kind === 'group' || kind === 'visits');
    const documentation = (inAttachment ? clauseDocumentation[image] : undefined) ?? wordDocumentation[image];
    return documentation && describeWord(documentation);
  }
  // Arch forms are names, and known only where a wire follows one.
  if (nodes.some(({ kind }) => kind === 'follow') && wordDocumentation[image]) {
    return describeWord(wordDocumentation[image]);
  }
  const call = nodes.findLast(({ kind }) => kind === 'function') as { name?: { text: string } } | undefined;
  return call?.name?.text === image && functionDocumentation[image] !== undefined
    ? describeWord(functionDocumentation[image])
    : undefined;
}

/** At the word that begins a step of the path, the activation or the wire: what it comes to, and what it rests on. */
function lineHover({ appliances, file }: Snapshot, span: Span, settings: Settings): string | undefined {
  const details = appliances
    .filter(({ appliance }) => file.appliances.includes(appliance) && !appliance.variant)
    .flatMap((evaluated) => [
      ...wireReadings(evaluated.appliance, settings),
      ...pathReadings(evaluated.appliance),
      ...loadReadings(evaluated, settings),
      ...groupReadings(evaluated, settings),
      ...visitReadings(evaluated, settings),
      ...bandReadings(evaluated, settings),
      ...activationReadings(evaluated, settings),
      ...gaugeReadings(evaluated, settings),
      ...assumptionReadings(evaluated.appliance),
    ])
    .filter((reading) => reading.line === 'last' && reading.span.start === span.start && reading.detail !== '')
    .map(markedDetail);
  return details.length === 0 ? undefined : details.join('\n\n');
}

function markedDetail({ detail, stale }: Reading): string {
  return stale ? `Of the last whole text: ${detail}` : detail;
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

function formatLength(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

function describeWord({ form, meaning }: WordDocumentation): string {
  return `\`\`\`springwright\n${form}\n\`\`\`\n\n${meaning}`;
}

function covers(outer: Span, inner: Span): boolean {
  return outer.start <= inner.start && inner.end <= outer.end;
}
