import {
  type ClientCapabilities,
  type InitializeResult,
  type ServerCapabilities,
  TextDocumentSyncKind,
} from 'vscode-languageserver';

export const serverCapabilities: ServerCapabilities = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
  hoverProvider: true,
  documentSymbolProvider: true,
  completionProvider: { triggerCharacters: ['.', ' ', '(', '"'] },
  documentFormattingProvider: true,
  definitionProvider: true,
  documentLinkProvider: {},
  inlayHintProvider: true,
};

export const initializeResult: InitializeResult = {
  capabilities: serverCapabilities,
  serverInfo: { name: 'springwright' },
};

/** What the client can do that the server makes use of. */
export interface ClientAbilities {
  readonly configuration: boolean;
  readonly registersConfiguration: boolean;
  readonly registersWatchers: boolean;
  readonly refreshesInlayHints: boolean;
}

export function clientAbilities({ workspace }: ClientCapabilities): ClientAbilities {
  return {
    configuration: workspace?.configuration === true,
    registersConfiguration: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    registersWatchers: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    refreshesInlayHints: workspace?.inlayHint?.refreshSupport === true,
  };
}
