/** Renames a name of the user's wherever it stands, or says why it cannot be. */
import type { Position, Range, TextEdit, WorkspaceEdit } from 'vscode-languageserver-types';
import { Direction, NumberLiteral, Text, type Token, Unit } from '#grammar/tokens';
import type { Span } from '#grammar/tree';
import { reservedWords } from '#grammar/words';
import type { Definition, Reference } from '#model/resolved';
import type { Snapshot, SourceView } from '#workspace/snapshot';
import { bundledName, canonicalUri } from '#workspace/uri';
import { keyOf, type Occurrence, occurrencesOf, referenceAt } from './names/occurrences';
import { offsetAt, rangeOf } from './positions';
import { isKeyword, tokenAt } from './token-at';
import { nodesAt } from './tree-walk';

/** Why a rename is not possible, for the person who asked for it. */
export interface Refusal {
  readonly refusal: string;
}

export function prepareRename(
  snapshot: Snapshot,
  position: Position,
): { readonly range: Range; readonly placeholder: string } | Refusal {
  const reference = referenceAt(snapshot, position);
  if (reference === undefined) return { refusal: whyNoName(snapshot, position) };
  const module = bundledName(canonicalUri(reference.definition.uri));
  if (module !== undefined) {
    return {
      refusal: `"${reference.definition.name}" belongs to the bundled module "${module}", which cannot be changed. Copy what you need into a file of your own and rename it there.`,
    };
  }
  if (isNamedByTooth(reference.definition)) {
    return {
      refusal: `"${reference.definition.name}" has its name from the tooth that it is on. Give it a line of its own with a name, such as "bracket canine on tooth 13".`,
    };
  }
  const { start, end } = reference.span;
  return { range: rangeOf(snapshot, reference.span), placeholder: snapshot.text.slice(start, end) };
}

function isNamedByTooth({ node }: Definition): boolean {
  return (
    node.kind === 'attachment' &&
    node.name !== undefined &&
    /^tooth_\d/.test(node.name.text) &&
    node.clauses.some(
      ({ kind, span }) =>
        kind === 'on' && span.start <= (node.name?.span.start ?? -1) && (node.name?.span.end ?? 0) <= span.end,
    )
  );
}

/** `sources` are the files to look through, this one among them. */
export function provideRename(
  snapshot: Snapshot,
  position: Position,
  newName: string,
  sources: readonly SourceView[],
): WorkspaceEdit | Refusal {
  const prepared = prepareRename(snapshot, position);
  if ('refusal' in prepared) return prepared;
  const { definition } = referenceAt(snapshot, position) as Reference;
  const places = occurrencesOf(definition, sources);
  const refusal = whyNotCalled(newName, definition, places);
  if (refusal !== undefined) return { refusal };
  const edits = [
    ...places.map(({ source, span, defines }) =>
      defines ? definitionEdit(source, definition, newName) : edit(source, span, newName),
    ),
    ...(definition.kind === 'part' ? loopsNamedAfter(definition, places, sources, newName) : []),
  ];
  const changes: Record<string, TextEdit[]> = {};
  for (const { uri, ...change } of edits) {
    changes[uri] ??= [];
    changes[uri].push(change);
  }
  return { changes };
}

interface PlacedEdit extends TextEdit {
  readonly uri: string;
}

function edit(source: SourceView, span: Span, newText: string): PlacedEdit {
  return { uri: source.uri, range: rangeOf(source, span), newText };
}

/** A loop that is named after its part is given a label of its own. */
function definitionEdit(source: SourceView, { kind, node, span }: Definition, newName: string): PlacedEdit {
  const unlabelled = kind === 'loop' && node.kind === 'call' && node.label === undefined;
  return unlabelled
    ? edit(source, { start: node.span.end, end: node.span.end }, ` as ${newName}`)
    : edit(source, span, newName);
}

/** Loops without a label bear the name of their part, or that and a number: their uses follow it. */
function loopsNamedAfter(
  part: Definition,
  places: readonly Occurrence[],
  sources: readonly SourceView[],
  newName: string,
): PlacedEdit[] {
  const calls = new Set(places.map(({ source, span }) => `${canonicalUri(source.uri)}:${span.start}`));
  return sources.flatMap((source) =>
    source.file.references.flatMap(({ span, definition }) => {
      const isCalled = calls.has(`${canonicalUri(definition.uri)}:${definition.span.start}`);
      if (definition.kind !== 'loop' || !isCalled || span.start === definition.span.start) return [];
      return [edit(source, span, definition.name.replace(part.name, newName))];
    }),
  );
}

/** What is wrong with the new name, if anything. */
function whyNotCalled(newName: string, definition: Definition, places: readonly Occurrence[]): string | undefined {
  if (!namePattern.test(newName)) {
    return `"${newName}" is not a name. A name begins with a letter and goes on with letters, digits and "_".`;
  }
  if (reservedWords.has(newName)) return `"${newName}" is a word of the language. Choose another name.`;
  for (const { source, span } of places) {
    const other = takenBy(newName, definition, source, span);
    if (other === undefined) continue;
    const line = rangeOf(other.home, other.span).start.line + 1;
    return `"${newName}" is taken in ${fileName(source.uri)}: see line ${line} of ${fileName(other.uri)}. Choose another name.`;
  }
  return undefined;
}

/** As the language's tokens have it. */
const namePattern =
  /^[A-Za-z_\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF\u0400-\u04FF][\w\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF\u0400-\u04FF]*$/;

/** Another definition of that name in reach of an occurrence: of the file, or of the same part or appliance. */
function takenBy(name: string, renamed: Definition, source: SourceView, span: Span): Definition | undefined {
  const isOther = (definition: Definition): boolean => definition.name === name && keyOf(definition) !== keyOf(renamed);
  // The name of an argument means something in its part only.
  if (renamed.kind === 'parameter' && !sameItem(source, renamed, span)) return undefined;
  const ofFile = source.file.scope.get(name);
  if (ofFile !== undefined && isOther(ofFile)) return ofFile;
  return source.file.references
    .map(({ definition }) => definition)
    .find((definition) => isOther(definition) && sameItem(source, definition, span));
}

/** Whether a definition stands in the item of the file in which the span lies. */
function sameItem(source: SourceView, definition: Definition, { start }: Span): boolean {
  if (canonicalUri(definition.uri) !== canonicalUri(source.uri)) return false;
  const item = source.parse.tree.items.find(({ span }) => span.start <= start && start <= span.end);
  return item !== undefined && item.span.start <= definition.span.start && definition.span.end <= item.span.end;
}

function whyNoName(snapshot: Snapshot, position: Position): string {
  const offset = offsetAt(snapshot, position);
  const token = tokenAt(snapshot.text, offset);
  if (token === undefined || !/\w/.test(token.image)) return 'There is no name here.';
  const what = describe(token);
  if (what !== undefined) return `"${token.image}" is ${what}, not a name of yours.`;
  const inMember = nodesAt(snapshot.parse.tree, offset).some(({ kind }) => kind === 'member');
  return inMember
    ? `"${token.image}" is a word of the language for a result or a property, not a name of yours.`
    : `"${token.image}" is not defined anywhere, so there is nothing to rename.`;
}

function describe(token: Token): string | undefined {
  if (token.tokenType === NumberLiteral) return 'a number';
  if (token.tokenType === Unit) return 'a unit';
  if (token.tokenType === Direction) return 'a direction';
  if (token.tokenType === Text || token.image.startsWith('"')) return 'a text';
  return isKeyword(token) ? 'a word of the language' : undefined;
}

function fileName(uri: string): string {
  return decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1));
}
