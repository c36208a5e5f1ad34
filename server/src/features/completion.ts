/** Completion: what may stand at the cursor, with its meaning. */
import { type CompletionItem, CompletionItemKind, InsertTextFormat, type Position } from 'vscode-languageserver-types';
import { dimensionName } from '#core/units/dimension';
import { UNITS } from '#core/units/unit';
import type { Definition } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import { completionContext } from './completion/context';
import { type Expectation, expectations } from './completion/expectation';
import {
  attachmentsInScope,
  definitionsInScope,
  freeSeats,
  loopsInScope,
  type ScopeName,
  valuesInScope,
} from './completion/names';
import { callSignature, definitionDocumentation, parameterText } from './documentation/definition';
import { bundledModules } from './documentation/modules';
import { type ResultName, resultsAfter } from './documentation/results';
import {
  clauseDocumentation,
  directionDocumentation,
  functionDocumentation,
  type WordDocumentation,
  wordDocumentation,
} from './documentation/words';
import { offsetAt } from './positions';
import { defaultSettings } from './settings';

export function provideCompletion(snapshot: Snapshot, position: Position): CompletionItem[] {
  const offset = offsetAt(snapshot, position);
  const context = completionContext(snapshot.text, offset);
  if (context === undefined) return [];
  const items = expectations(context).flatMap((expectation, rank) =>
    itemsOf(snapshot, offset, expectation, context.quoted !== undefined).map((item, place) => ({
      ...item,
      // In the order of the language, not of the alphabet: what is most likely wanted stands first.
      sortText: `${rank}${String(place).padStart(3, '0')}`,
    })),
  );
  return [...new Map(items.map((item) => [item.label, item])).values()];
}

function itemsOf(snapshot: Snapshot, offset: number, expected: Expectation, quoted: boolean): CompletionItem[] {
  switch (expected.kind) {
    case 'words':
      return expected.words.map((word) => wordItem(word, wordDocumentation[word], CompletionItemKind.Keyword));
    case 'clauses':
      return expected.words.map((word) => wordItem(word, clauseDocumentation[word], CompletionItemKind.Keyword));
    case 'functions':
      return expected.words.map((word) => ({
        ...wordItem(word, functionDocumentation[word], CompletionItemKind.Function),
        ...snippet(`${word}($0)`),
      }));
    case 'directions':
      return expected.words.map((word) => ({
        ...{ label: word, kind: CompletionItemKind.EnumMember, detail: 'direction' },
        documentation: markdown(directionDocumentation[word]),
      }));
    case 'units':
      return expected.words.flatMap((word) => unitItem(word) ?? []);
    case 'values':
      return valuesInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'owners':
      return [
        ...attachmentsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        ...loopsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable)),
        { label: 'wire', kind: CompletionItemKind.Variable, detail: 'results of the wire' },
        { label: 'activation', kind: CompletionItemKind.Variable, detail: 'results of the activation' },
      ];
    case 'attachments':
      return attachmentsInScope(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'seats':
      return freeSeats(snapshot, offset).map((name) => nameItem(name, CompletionItemKind.Variable));
    case 'parts':
      return definitionsInScope(snapshot, 'part').map(partItem);
    case 'alloys':
      return definitionItems(snapshot, 'alloy');
    case 'sections':
      return definitionItems(snapshot, 'section');
    case 'slots':
      return definitionItems(snapshot, 'slot');
    case 'modules':
      return bundledModules.map(({ name, meaning }) => ({
        ...{ label: name, kind: CompletionItemKind.Module, detail: 'bundled module', documentation: markdown(meaning) },
        ...(quoted ? {} : { insertText: `"${name}"` }),
      }));
    case 'parameters':
      return parameterItems(snapshot, expected.part, expected.given);
    case 'results':
      return resultItems(snapshot, offset, expected.path);
  }
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

function resultItems(snapshot: Snapshot, offset: number, path: readonly string[]): CompletionItem[] {
  return followingNames(snapshot, offset, path).map(({ name, meaning }) => ({
    ...{ label: name, kind: CompletionItemKind.Field, documentation: markdown(meaning) },
  }));
}

function followingNames(snapshot: Snapshot, offset: number, [owner, ...path]: readonly string[]): ResultName[] {
  if (owner === 'wire' || owner === 'activation') return resultsAfter(owner, path);
  const isOwner = ({ name }: ScopeName): boolean => name === owner;
  if (loopsInScope(snapshot, offset).some(isOwner)) return resultsAfter('loop', path);
  return attachmentsInScope(snapshot, offset).some(isOwner) ? resultsAfter('attachment', path) : [];
}

function snippet(insertText: string): Partial<CompletionItem> {
  return { insertText, insertTextFormat: InsertTextFormat.Snippet };
}

function markdown(value: string | undefined): CompletionItem['documentation'] {
  return value === undefined ? undefined : { kind: 'markdown', value };
}
