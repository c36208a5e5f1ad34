/** Completion: what may stand at the cursor, with its meaning. */
import { type CompletionItem, CompletionItemKind, InsertTextFormat, type Position } from 'vscode-languageserver-types';
import { dimensionName, sameDimension } from '#core/units/dimension';
import { UNITS } from '#core/units/unit';
import { archDirections, quadrantDirections, unitWords } from '#grammar/words';
import { WIRE_SIZES } from '#model/expression/member';
import type { Definition } from '#model/resolved';
import type { ResultOwner } from '#model/results';
import { ALLOY_PROPERTIES } from '#model/wire';
import type { Snapshot } from '#workspace/snapshot';
import { bundledName, canonicalUri, relativeUse } from '#workspace/uri';
import { type CompletionContext, completionContext } from './completion/context';
import { type Expectation, expectations, type FittingUnit } from './completion/expectation';
import {
  attachmentsInScope,
  auxiliariesInScope,
  definitionsInScope,
  freeSeats,
  groupsInScope,
  loadsInScope,
  loopsInScope,
  mainAttachments,
  marksInScope,
  type ScopeName,
  siteAt,
  valuesInScope,
} from './completion/names';
import { wordSnippet } from './completion/snippets';
import { callSignature, definitionDocumentation, parameterText } from './documentation/definition';
import { bundledModules } from './documentation/modules';
import { type ResultName, resultNamed, resultsAfter } from './documentation/results';
import {
  clauseDocumentation,
  directionDocumentation,
  functionDocumentation,
  type WordDocumentation,
  wordDocumentation,
} from './documentation/words';
import { offsetAt, rangeOf } from './positions';
import { defaultSettings } from './settings';

/** Whether files of the workspace may stand at this place. */
export function completesFiles(snapshot: Snapshot, position: Position): boolean {
  const context = completionContext(snapshot.text, offsetAt(snapshot, position));
  return context !== undefined && expectations(context).some(({ kind }) => kind === 'modules');
}

/** `files` are uris of the workspace's files, where they are wanted. */
export function provideCompletion(
  snapshot: Snapshot,
  position: Position,
  files: readonly string[] = [],
): CompletionItem[] {
  const offset = offsetAt(snapshot, position);
  const context = completionContext(snapshot.text, offset);
  if (context === undefined) return [];
  const items = expectations(context).flatMap((expectation, rank) =>
    (expectation.kind === 'modules'
      ? moduleItems(snapshot, offset, context, files)
      : itemsOf(snapshot, offset, expectation)
    ).map((item, place) => ({
      ...item,
      // In the order of the language, not of the alphabet: what is most likely wanted stands first.
      sortText: `${rank}${String(place).padStart(3, '0')}`,
    })),
  );
  return [...new Map(items.map((item) => [item.label, item])).values()];
}

type OtherExpectation = Exclude<Expectation, { readonly kind: 'modules' }>;

function itemsOf(snapshot: Snapshot, offset: number, expected: OtherExpectation): CompletionItem[] {
  switch (expected.kind) {
    case 'words':
      return expected.words.map((word) => ({
        ...wordItem(word, wordDocumentation[word], CompletionItemKind.Keyword),
        ...(expected.begin ? beginning(word, expected.begin) : {}),
      }));
    case 'clauses':
      return expected.words.map((word) => wordItem(word, clauseDocumentation[word], CompletionItemKind.Keyword));
    case 'functions':
      return expected.words.map((word) => ({
        ...wordItem(word, functionDocumentation[word], CompletionItemKind.Function),
        ...snippet(`${word}($0)`),
      }));
    case 'directions':
      return wordsOfFrame(expected.words, siteAt(snapshot, offset)).map((word) => ({
        ...{ label: word, kind: CompletionItemKind.EnumMember, detail: 'direction' },
        documentation: markdown(directionDocumentation[word]),
      }));
    case 'units':
      return fittingFirst(snapshot, expected.words, expected.fits).flatMap((word) => unitItem(word) ?? []);
    case 'values':
      return valuesInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'owners':
      return [
        ...attachmentsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        ...loopsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        ...loadsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        ...groupsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        ...auxiliariesInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        { label: 'wire', kind: CompletionItemKind.Variable, detail: 'results of the wire' },
        { label: 'activation', kind: CompletionItemKind.Variable, detail: 'results of the activation' },
        { label: 'plan', kind: CompletionItemKind.Variable, detail: 'results over visits' },
      ];
    case 'attachments':
      return attachmentsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'ends':
      return [...attachmentsInScope(snapshot, offset), ...marksInScope(snapshot, offset)].map((name) =>
        nameItem(name, CompletionItemKind.Variable),
      );
    case 'seats':
      return freeSeats(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'parts':
      return definitionsInScope(snapshot, 'part').map(partItem);
    case 'appliances':
      return definitionItems(snapshot, 'appliance');
    case 'mains':
      return mainAttachments(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'alloys':
      return definitionItems(snapshot, 'alloy');
    case 'sections':
      return definitionItems(snapshot, 'section');
    case 'slots':
      return definitionItems(snapshot, 'slot');
    case 'parameters':
      return parameterItems(snapshot, expected.part, expected.given);
    case 'varied':
      return variedItems(snapshot, expected.appliance, expected.given);
    case 'results':
      return resultItems(snapshot, offset, expected.path, expected.shape);
    case 'properties':
      return propertyItems(expected.given);
  }
}

/** In a whole arch its own directions take the place of a quadrant's. */
function wordsOfFrame(words: readonly string[], site: 'quadrant' | 'arch' | undefined): readonly string[] {
  if (site !== 'arch') return words;
  if (words.length === quadrantDirections.length) return archDirections;
  return words.includes('mesial') ? ['left', 'right', 'anterior', 'posterior'] : words;
}

/** Bundled modules, then files of the workspace, over what stands between the quotes. */
function moduleItems(
  snapshot: Snapshot,
  offset: number,
  { quoted, word }: CompletionContext,
  files: readonly string[],
): CompletionItem[] {
  const own = canonicalUri(snapshot.uri);
  const used = snapshot.parse.tree.items.flatMap((item) => (item.kind === 'use' ? (item.path?.value ?? []) : []));
  const range = rangeOf(snapshot, { start: offset - (quoted ?? word).length, end: offset });
  const item = (label: string, detail: string, documentation?: string): CompletionItem => ({
    ...{ label, kind: CompletionItemKind.Module, detail, documentation: markdown(documentation) },
    ...{ filterText: label, textEdit: { range, newText: quoted === undefined ? `"${label}"` : label } },
  });
  const paths = files.flatMap((uri) => {
    const isOwn = canonicalUri(uri) === own || bundledName(canonicalUri(uri)) !== undefined;
    const path = isOwn ? undefined : relativeUse(own, canonicalUri(uri));
    return path === undefined || used.includes(path) ? [] : [path];
  });
  return [
    ...bundledModules.map(({ name, meaning }) => item(name, 'bundled module', meaning)),
    ...paths.sort().map((path) => item(path, 'file', 'A file of this workspace.')),
  ];
}

function wordItem(
  label: string,
  documentation: WordDocumentation | undefined,
  kind: CompletionItemKind,
): CompletionItem {
  return { label, kind, detail: documentation?.form, documentation: markdown(documentation?.meaning) };
}

function unitItem(word: string): CompletionItem | undefined {
  const unit = UNITS.get(word);
  return (
    unit && {
      ...{ label: word, kind: CompletionItemKind.Unit, detail: dimensionName(unit.dimension) },
      documentation: markdown(unit.meaning),
    }
  );
}

function nameItem({ name, detail, doc }: ScopeName, kind: CompletionItemKind): CompletionItem {
  return { label: name, kind, detail, documentation: markdown(doc) };
}

function definitionItems(snapshot: Snapshot, kind: Definition['kind']): CompletionItem[] {
  return definitionsInScope(snapshot, kind).map((definition) => ({
    ...{ label: definition.name, kind: CompletionItemKind.Constant, detail: kind },
    documentation: markdown(definitionDocumentation(definition, snapshot, defaultSettings.units)),
  }));
}

function partItem(definition: Definition): CompletionItem {
  const { text } = definition.home;
  return {
    ...{ label: definition.name, kind: CompletionItemKind.Function },
    detail: definition.node.kind === 'part' ? callSignature(definition.node, text) : undefined,
    documentation: markdown(definition.doc),
    ...snippet(`${definition.name}($0)`),
  };
}

function parameterItems(snapshot: Snapshot, part: string, given: readonly string[]): CompletionItem[] {
  const definition = snapshot.file.scope.get(part);
  if (definition?.node.kind !== 'part') return [];
  const { text } = definition.home;
  return definition.node.parameters.flatMap((parameter) => {
    const { name, doc } = parameter;
    if (name === undefined || given.includes(name.text)) return [];
    return [
      {
        ...{ label: name.text, kind: CompletionItemKind.Property, detail: parameterText(parameter, text) },
        ...{ documentation: markdown(doc), insertText: `${name.text} = ` },
      },
    ];
  });
}

function variedItems(snapshot: Snapshot, name: string, given: readonly string[]): CompletionItem[] {
  const varied = snapshot.parse.tree.items.find((item) => item.kind === 'appliance' && item.name?.text === name);
  if (varied?.kind !== 'appliance') return [];
  return varied.members.flatMap((member) => {
    if (member.kind !== 'parameter' || member.name === undefined || given.includes(member.name.text)) return [];
    return [
      {
        ...{ label: member.name.text, kind: CompletionItemKind.Property, detail: parameterText(member, snapshot.text) },
        ...{ documentation: markdown(member.doc), insertText: `${member.name.text} = ` },
      },
    ];
  });
}

function propertyItems(given: readonly string[]): CompletionItem[] {
  return [...ALLOY_PROPERTIES]
    .filter(([name]) => !given.includes(name))
    .map(([label, { dimension, documentation, example }]) => ({
      ...{ label, kind: CompletionItemKind.Property, detail: dimensionName(dimension), insertText: `${label} = ` },
      documentation: markdown(`\`\`\`springwright\n${example}\n\`\`\`\n\n${documentation}`),
    }));
}

/** Units of the kind that is wanted before all others. */
function fittingFirst({ file }: Snapshot, words: readonly string[], fits: FittingUnit | undefined): readonly string[] {
  const parameter =
    typeof fits === 'object' && file.scope.get(fits.part)?.parameters.find(({ name }) => name === fits.parameter);
  const wanted = parameter ? parameter.dimension : typeof fits === 'string' && UNITS.get(unitWords[fits][0])?.dimension;
  if (!wanted) return words;
  const hasFitting = (word: string): boolean => {
    const dimension = UNITS.get(word)?.dimension;
    return dimension !== undefined && sameDimension(dimension, wanted);
  };
  return [...words.filter(hasFitting), ...words.filter((word) => !hasFitting(word))];
}

interface FollowingName extends ResultName {
  readonly detail?: string;
}

function resultItems(snapshot: Snapshot, offset: number, path: readonly string[], shape: boolean): CompletionItem[] {
  return followingNames(snapshot, offset, path, shape).map(({ name, meaning, detail }) => ({
    ...{ label: name, kind: CompletionItemKind.Field, detail, documentation: markdown(meaning) },
  }));
}

function followingNames(
  snapshot: Snapshot,
  offset: number,
  [owner, ...path]: readonly string[],
  shape: boolean,
): FollowingName[] {
  if (owner === 'wire' && shape) {
    return [...WIRE_SIZES].map(([name, { documentation }]) => ({ name, meaning: documentation, detail: 'length' }));
  }
  if (owner === 'wire' || owner === 'activation' || owner === 'plan') return resultNames(owner, path);
  const isOwner = ({ name }: ScopeName): boolean => name === owner;
  const auxiliary = auxiliariesInScope(snapshot, offset).find(isOwner);
  if (auxiliary) return namesOfAuxiliary(auxiliary.attachments, path);
  if (loopsInScope(snapshot, offset).some(isOwner)) return resultNames('loop', path);
  if (loadsInScope(snapshot, offset).some(isOwner)) return resultNames('load', path);
  if (groupsInScope(snapshot, offset).some(isOwner)) return resultNames('group', path);
  return attachmentsInScope(snapshot, offset).some(isOwner) ? resultNames('attachment', path) : [];
}

function namesOfAuxiliary(attachments: readonly ScopeName[], [owner, ...path]: readonly string[]): FollowingName[] {
  if (owner === 'wire') return resultNames('wire', path);
  if (owner !== undefined) return attachments.some(({ name }) => name === owner) ? resultNames('attachment', path) : [];
  return [
    ...attachments.map(({ name, detail, doc }) => ({ name, detail, meaning: doc ?? 'Its share at this attachment.' })),
    { name: 'wire', detail: 'results of the wire', meaning: 'Stress and other results of the auxiliary wire.' },
  ];
}

/** A name that is a whole result has a dimension. */
function resultNames(owner: ResultOwner, path: readonly string[]): FollowingName[] {
  return resultsAfter(owner, path).map((result) => {
    const named = resultNamed(owner, [...path, result.name]);
    return { ...result, detail: named && dimensionName(named.dimension) };
  });
}

/** The whole form of a line that begins with the word. */
function beginning(word: string, begins: 'line' | 'step'): Partial<CompletionItem> {
  const form = wordSnippet(word, begins);
  return form === undefined ? {} : snippet(form);
}

function snippet(insertText: string): Partial<CompletionItem> {
  return { insertText, insertTextFormat: InsertTextFormat.Snippet };
}

function markdown(value: string | undefined): CompletionItem['documentation'] {
  return value === undefined ? undefined : { kind: 'markdown', value };
}
