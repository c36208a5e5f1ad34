/** The outline: items of the file, members of appliances and the marks and parts along their paths. */
import { type DocumentSymbol, SymbolKind } from 'vscode-languageserver-types';
import type { ApplianceItem, ApplianceMember, Item, Name, PathItem, Span } from '#grammar/tree';
import type { Snapshot } from '#workspace/snapshot';
import { rangeOf } from './positions';
import { slice } from './source-text';

export function provideDocumentSymbols(snapshot: Snapshot): DocumentSymbol[] {
  return snapshot.parse.tree.items.flatMap((item) => itemSymbol(snapshot, item) ?? []);
}

function itemSymbol(snapshot: Snapshot, item: Item): DocumentSymbol | undefined {
  switch (item.kind) {
    case 'use':
      return undefined;
    case 'let':
      return named(snapshot, item, SymbolKind.Constant, 'value');
    case 'alloy':
      return named(snapshot, item, SymbolKind.Struct, 'alloy');
    case 'section':
      return named(snapshot, item, SymbolKind.Constant, 'wire size');
    case 'slot':
      return named(snapshot, item, SymbolKind.Constant, 'slot size');
    case 'part':
      return named(snapshot, item, SymbolKind.Function, 'part', [
        ...item.parameters.flatMap((parameter) => named(snapshot, parameter, SymbolKind.Variable, 'parameter') ?? []),
        ...pathSymbols(snapshot, item.body),
      ]);
    case 'appliance':
      return named(snapshot, item, SymbolKind.Class, applianceDetail(item), memberSymbols(snapshot, item));
    case 'variant':
      return named(snapshot, item, SymbolKind.Class, `variant of ${item.base?.text ?? '…'}`);
  }
}

function applianceDetail({ auxiliary }: ApplianceItem): string {
  return auxiliary ? `auxiliary wire of ${auxiliary.base?.text ?? '…'}` : 'appliance';
}

function memberSymbols(snapshot: Snapshot, { members }: ApplianceItem): DocumentSymbol[] {
  return members.flatMap((member) => memberSymbol(snapshot, member) ?? []);
}

function memberSymbol(snapshot: Snapshot, member: ApplianceMember): DocumentSymbol | undefined {
  switch (member.kind) {
    case 'wire':
      return plain(snapshot, member.span, 'wire', SymbolKind.Property, firstLine(snapshot, member.span, 'wire'));
    case 'parameter':
      return named(snapshot, member, SymbolKind.Variable, 'parameter');
    case 'let':
      return named(snapshot, member, SymbolKind.Constant, 'value');
    case 'path':
      return plain(
        snapshot,
        member.span,
        'path',
        SymbolKind.Array,
        `running ${member.direction?.text ?? '…'}`,
        pathSymbols(snapshot, member.body),
      );
    case 'attachment':
      return named(snapshot, member, SymbolKind.Object, member.fitting);
    case 'load':
      return member.name === undefined
        ? plain(
            snapshot,
            member.span,
            member.fitting,
            SymbolKind.Object,
            firstLine(snapshot, member.span, member.fitting),
          )
        : named(snapshot, member, SymbolKind.Object, member.fitting);
    case 'group':
      return named(snapshot, member, SymbolKind.Object, 'group of teeth');
    case 'visits':
      return plain(snapshot, member.span, 'visits', SymbolKind.Event, firstLine(snapshot, member.span, 'visits'));
    case 'activation':
      return plain(
        snapshot,
        member.span,
        'activation',
        SymbolKind.Event,
        firstLine(snapshot, member.span, 'activation'),
      );
    case 'trial':
      return plain(
        snapshot,
        member.span,
        'trial activation',
        SymbolKind.Event,
        firstLine(snapshot, member.span, 'trial activation'),
      );
    case 'gauge':
      return plain(snapshot, member.span, 'gauge', SymbolKind.Event, firstLine(snapshot, member.span, 'gauge'));
    case 'require': {
      const heading = firstLine(snapshot, member.span, member.severity).replace(/\s*\{.*$/, '');
      return plain(snapshot, member.span, member.severity, SymbolKind.Boolean, heading);
    }
  }
}

/** Only what has a name or a body of its own: a list of every straight and bend would be the file again. */
function pathSymbols(snapshot: Snapshot, body: readonly PathItem[]): DocumentSymbol[] {
  return body.flatMap((item): DocumentSymbol[] => {
    switch (item.kind) {
      case 'let':
        return optional(named(snapshot, item, SymbolKind.Constant, 'value'));
      case 'seat':
        return optional(symbolOf(snapshot, item.span, item.attachment, SymbolKind.Key, 'seat'));
      case 'mark':
        return optional(named(snapshot, item, SymbolKind.Key, 'mark'));
      case 'call': {
        const detail = item.label === undefined ? 'part' : (item.part?.text ?? 'part');
        return optional(symbolOf(snapshot, item.span, item.label ?? item.part, SymbolKind.Function, detail));
      }
      case 'repeat': {
        const heading = firstLine(snapshot, item.span, 'repeat').replace(/\s*\{.*$/, '');
        return [plain(snapshot, item.span, 'repeat', SymbolKind.Array, heading, pathSymbols(snapshot, item.body))];
      }
      default:
        return [];
    }
  });
}

function named(
  snapshot: Snapshot,
  node: { readonly span: Span; readonly name: Name | undefined },
  kind: SymbolKind,
  detail: string,
  children?: DocumentSymbol[],
): DocumentSymbol | undefined {
  return symbolOf(snapshot, node.span, node.name, kind, detail, children);
}

function symbolOf(
  snapshot: Snapshot,
  span: Span,
  name: Name | undefined,
  kind: SymbolKind,
  detail: string,
  children?: DocumentSymbol[],
): DocumentSymbol | undefined {
  // An editor refuses an outline with an empty name; a thing that has none yet is not in it.
  if (name === undefined || name.text === '') return undefined;
  const selectionRange = rangeOf(snapshot, name.span);
  return { name: name.text, detail, kind, range: rangeOf(snapshot, span), selectionRange, children };
}

function plain(
  snapshot: Snapshot,
  span: Span,
  name: string,
  kind: SymbolKind,
  detail: string,
  children?: DocumentSymbol[],
): DocumentSymbol {
  const range = rangeOf(snapshot, span);
  const selectionRange = rangeOf(snapshot, { start: span.start, end: Math.min(span.end, span.start + name.length) });
  return { name, detail, kind, range, selectionRange, children };
}

/** The rest of the line after the leading word. */
function firstLine({ text }: Snapshot, span: Span, word: string): string {
  const [line] = text.slice(span.start, span.end).split(/[\r\n]/, 1);
  return slice(line, { start: line.startsWith(word) ? word.length : 0, end: line.length });
}

function optional<T>(value: T | undefined): T[] {
  return value === undefined ? [] : [value];
}
