/** The editor's requests about results, names, text and files, each answered by one feature. */
import { type Connection, LSPErrorCodes, ResponseError, WillRenameFilesRequest } from 'vscode-languageserver';
import { completesFiles } from '#features/completion';
import { hoverShowsBands } from '#features/hover';
import type { Refusal } from '#features/rename';
import type { Settings } from '#features/settings';
import type { Snapshot } from '#workspace/snapshot';
import type { Features } from './features';
import type { Guard, Handler } from './guard';
import type { WorkspaceFiles } from './workspace-files';

export interface DocumentParams {
  readonly textDocument: { readonly uri: string };
}

export type Answer<R> = R | ResponseError<void> | Promise<R | ResponseError<void>>;

/** Makes a guarded handler of a request on an open document; unknown and closed ones yield `nothing`. */
export type OnDocument = <P extends DocumentParams, R>(
  name: string,
  nothing: R,
  provide: (snapshot: Snapshot, params: P, settings: Settings) => Answer<R>,
  wantsBands?: (snapshot: Snapshot, params: P, settings: Settings) => boolean,
) => Handler<P, R>;

export interface LanguageRequests {
  readonly connection: Connection;
  readonly guard: Guard;
  readonly features: Features;
  readonly onDocument: OnDocument;
  readonly files: WorkspaceFiles;
}

export function answerLanguageRequests({ connection, guard, features, onDocument, files }: LanguageRequests): void {
  // Results.
  connection.languages.inlayHint.on(
    onDocument(
      'inlay hints',
      null,
      (snapshot, { range }, current) => features.provideInlayHints(snapshot, range, current),
      (_snapshot, _params, { hints }) => hints.bands,
    ),
  );
  connection.onHover(
    onDocument(
      'hover',
      null,
      (snapshot, { position }, current) => features.provideHover(snapshot, position, current),
      (snapshot, { position }) => hoverShowsBands(snapshot, position),
    ),
  );
  connection.onCodeLens(
    onDocument('code lens', null, (snapshot, _params, settings) => features.provideCodeLenses(snapshot, settings)),
  );

  // Names.
  connection.onDefinition(
    onDocument('definition', null, (snapshot, { position }) => features.provideDefinition(snapshot, position)),
  );
  connection.onReferences(
    onDocument('references', null, async (snapshot, { position, context }) =>
      features.provideReferences(snapshot, position, await files.sources(), context),
    ),
  );
  connection.onDocumentHighlight(
    onDocument('highlights', null, (snapshot, { position }) => features.provideDocumentHighlights(snapshot, position)),
  );
  connection.onPrepareRename(
    onDocument('prepare rename', null, (snapshot, { position }) =>
      unlessRefused(features.prepareRename(snapshot, position)),
    ),
  );
  connection.onRenameRequest(
    onDocument('rename', null, async (snapshot, { position, newName }) =>
      unlessRefused(features.provideRename(snapshot, position, newName, await files.sources())),
    ),
  );
  connection.onWorkspaceSymbol(
    guard.request('workspace symbols', null, async ({ query }) =>
      features.provideWorkspaceSymbols(await files.sources(), query),
    ),
  );
  connection.onCompletion(
    onDocument('completion', null, async (snapshot, { position }) => {
      const others = completesFiles(snapshot, position) ? await files.uris() : [];
      return features.provideCompletion(snapshot, position, others);
    }),
  );
  connection.onSignatureHelp(
    onDocument('signature help', null, (snapshot, { position }, settings) =>
      features.provideSignatureHelp(snapshot, position, settings),
    ),
  );

  // Text.
  connection.onDocumentSymbol(onDocument('outline', null, (snapshot) => features.provideDocumentSymbols(snapshot)));
  connection.onCodeAction(
    onDocument('fixes', null, (snapshot, { range }) => features.provideCodeActions(snapshot, range)),
  );
  connection.languages.semanticTokens.on(
    onDocument('semantic tokens', { data: [] }, (snapshot) => features.provideSemanticTokens(snapshot)),
  );
  connection.languages.semanticTokens.onRange(
    onDocument('semantic tokens', { data: [] }, (snapshot, { range }) =>
      features.provideSemanticTokens(snapshot, range),
    ),
  );
  connection.onFoldingRanges(onDocument('folding', null, (snapshot) => features.provideFoldingRanges(snapshot)));
  connection.onSelectionRanges(
    onDocument('selection', null, (snapshot, { positions }) => features.provideSelectionRanges(snapshot, positions)),
  );
  connection.onDocumentFormatting(onDocument('formatting', null, (snapshot) => features.provideFormatting(snapshot)));
  connection.onDocumentRangeFormatting(
    onDocument('range formatting', null, (snapshot, { range }) => features.provideRangeFormatting(snapshot, range)),
  );
  connection.onDocumentOnTypeFormatting(
    onDocument('formatting on type', null, (snapshot, { position, ch }) =>
      features.provideOnTypeFormatting(snapshot, position, ch),
    ),
  );

  // Files.
  connection.onDocumentLinks(onDocument('links', null, (snapshot) => features.provideDocumentLinks(snapshot)));
  connection.onRequest(
    WillRenameFilesRequest.type,
    guard.request('file rename', null, async (renames) =>
      features.provideFileRename(await files.sources(), renames.files),
    ),
  );
}

/** The editor shows the reason to the person who asked. */
function unlessRefused<R extends object>(result: R | Refusal): R | ResponseError<void> {
  return 'refusal' in result ? new ResponseError<void>(LSPErrorCodes.RequestFailed, result.refusal) : result;
}
