/** What is known of a name, as Markdown: how it is written, its value, doc comment and source. */

import { dimensionName } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { Parameter, PartItem, Property, Source } from '#grammar/tree';
import { provenanceOf } from '#model/provenance';
import type { Definition } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import type { Settings } from '../settings';
import { slice } from '../source-text';
import { provenanceText } from './provenance';

export function definitionDocumentation(definition: Definition, snapshot: Snapshot, units: Settings['units']): string {
  const { text } = definition.home;
  const blocks = [
    `\`\`\`springwright\n${signature(definition, text)}\n\`\`\``,
    definition.doc,
    definition.value === undefined
      ? undefined
      : `${formatQuantity(definition.value, units)}${kind(definition.value.dimension)}`,
    ...details(definition, text),
    definition.uri === snapshot.uri ? undefined : `Defined in ${moduleName(definition.uri)}.`,
  ];
  return blocks.filter((block) => block !== undefined && block !== '').join('\n\n');
}

/** A part as it is called, with its parameters' defaults: `open_loop(height = 7 mm, width = 2 mm)`. */
export function callSignature({ name, parameters }: PartItem, text: string): string {
  const written = parameters.map((parameter) => parameterText(parameter, text));
  return `${name?.text ?? ''}(${written.join(', ')})`;
}

/** `height = 7 mm in 4 mm .. 12 mm` */
export function parameterText({ name, value, range }: Parameter, text: string): string {
  const assigned = value === undefined ? '' : ` = ${slice(text, value.span)}`;
  return `${name?.text ?? ''}${assigned}${range === undefined ? '' : ` in ${slice(text, range.span)}`}`;
}

function signature({ kind, name, node }: Definition, text: string): string {
  switch (node.kind) {
    case 'part':
      return `part ${callSignature(node, text)}`;
    case 'parameter':
      return `param ${parameterText(node, text)}`;
    case 'let':
    case 'section':
    case 'slot':
    case 'attachment':
    case 'load':
    case 'group':
    case 'variant':
      return slice(text, node.span);
    case 'property':
      return node.value === undefined ? name : `${name} = ${slice(text, node.value.span)}`;
    case 'alloy':
      return `alloy ${name}`;
    case 'appliance':
      return node.auxiliary ? `auxiliary ${name} of ${node.auxiliary.base?.text ?? '…'}` : `appliance ${name}`;
    default:
      return `${kind} ${name}`;
  }
}

function details({ node }: Definition, text: string): (string | undefined)[] {
  switch (node.kind) {
    case 'alloy':
      return [propertyTable(node.properties, text)];
    case 'property':
      return [node.range && `Range: ${slice(text, node.range.span)}.`, sourceText(node.source)];
    case 'let':
    case 'section':
    case 'slot':
      return [sourceText(node.source)];
    default:
      return [];
  }
}

function propertyTable(properties: readonly Property[], text: string): string | undefined {
  const rows = properties.flatMap(({ name, value, range, source }) =>
    name === undefined || value === undefined
      ? []
      : [
          `| ${name.text} | ${slice(text, value.span)}${range === undefined ? '' : ` (${slice(text, range.span)})`} | ${sourceText(source) ?? ''} |`,
        ],
  );
  return rows.length === 0 ? undefined : ['| | | |', '| --- | --- | --- |', ...rows].join('\n');
}

function sourceText(source: Source | undefined): string | undefined {
  if (source === undefined) return undefined;
  return provenanceText(provenanceOf(source));
}

function kind(dimension: Dimension): string {
  const name = dimensionName(dimension);
  return name === 'plain number' ? '' : `, ${name}`;
}

/** `alloys` for a bundled module, the file's name for any other. */
function moduleName(uri: string): string {
  const file = decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1));
  return uri.startsWith('springwright-library:')
    ? `the bundled module "${file.replace(/\.spring$/, '')}"`
    : `"${file}"`;
}
