import {
  type ClientCapabilities,
  CodeActionKind,
  type InitializeResult,
  type ServerCapabilities,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { semanticTokenModifiers, semanticTokenTypes } from '#features/semantic-tokens';

export const serverCapabilities: ServerCapabilities = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
  hoverProvider: true,
  documentSymbolProvider: true,
  completionProvider: { triggerCharacters: ['.', ' ', '(', '"'] },
  documentFormattingProvider: true,
  definitionProvider: true,
  documentLinkProvider: {},
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
  inlayHintProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  workspaceSymbolProvider: true,
  signatureHelpProvider: { triggerCharacters: ['(', ','], retriggerCharacters: ['='] },
  semanticTokensProvider: {
    legend: { tokenTypes: [...semanticTokenTypes], tokenModifiers: [...semanticTokenModifiers] },
    full: true,
    range: true,
  },
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  codeLensProvider: {},
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '}', moreTriggerCharacter: ['\n'] },
  workspace: {
    fileOperations: {
      willRename: {
        filters: [
          { pattern: { glob: '**/*.spring', matches: 'file' } },
          // The files in a folder that moves move with it.
          { pattern: { glob: '**', matches: 'folder' } },
        ],
      },
    },
  },
};

export const initializeResult: InitializeResult = {
  capabilities: serverCapabilities,
  serverInfo: { name: 'springwright' },
};

/** What the client can do that the server makes use of. */
export interface ClientAbilities {
  readonly configuration: boolean;
  readonly refreshesInlayHints: boolean;
  readonly refreshesCodeLenses: boolean;
  readonly refreshesSemanticTokens: boolean;
}

export function clientAbilities({ workspace }: ClientCapabilities): ClientAbilities {
  return {
    configuration: workspace?.configuration === true,
    refreshesInlayHints: workspace?.inlayHint?.refreshSupport === true,
    refreshesCodeLenses: workspace?.codeLens?.refreshSupport === true,
    refreshesSemanticTokens: workspace?.semanticTokens?.refreshSupport === true,
  };
}
