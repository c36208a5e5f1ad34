import {
  type ClientCapabilities,
  CodeActionKind,
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
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
  inlayHintProvider: true,
};

export const initializeResult: InitializeResult = {
  capabilities: serverCapabilities,
  serverInfo: { name: 'springwright' },
};

/** What the client can do that the server makes use of. */
export interface ClientAbilities {
  readonly configuration: boolean;
  readonly refreshesInlayHints: boolean;
}

export function clientAbilities({ workspace }: ClientCapabilities): ClientAbilities {
  return {
    configuration: workspace?.configuration === true,
    refreshesInlayHints: workspace?.inlayHint?.refreshSupport === true,
  };
}
