/** A small editor: speaks the protocol to a server and keeps what the server pushes. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  type ClientCapabilities,
  createMessageConnection,
  type Diagnostic,
  type InlayHint,
  type MessageConnection,
  type MessageReader,
  type MessageWriter,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver/node';
import {
  type Effort,
  effortRequest,
  findFilesRequest,
  type ReadFileParams,
  type ReadFileResult,
  readFileRequest,
} from '#lsp/protocol';

export interface TestClient {
  readonly connection: MessageConnection;
  /** Files the server can read, by uri. */
  readonly files: Map<string, string>;
  /** Settings under `springwright`; `changeSettings` tells the server. */
  changeSettings(settings: unknown): void;
  open(uri: string, text: string): void;
  change(uri: string, ...changes: TextDocumentContentChangeEvent[]): number;
  close(uri: string): void;
  /** Diagnostics of the document's present version, once the server has sent them. */
  diagnostics(uri: string): Promise<Diagnostic[]>;
  hints(uri: string): Promise<InlayHint[]>;
  ask<R>(method: string, params: unknown): Promise<R>;
  effort(): Promise<Effort>;
  /** Lines the server logged as errors. */
  readonly errors: string[];
  /** How often the server asked to have hints drawn again. */
  readonly refreshes: () => number;
  stop(): Promise<void>;
}

const capabilities: ClientCapabilities = {
  workspace: { configuration: true, inlayHint: { refreshSupport: true } },
};

/** Starts the server bundle as a process and shakes hands with it over stdio. */
export async function startNodeServer(file: string): Promise<TestClient & { readonly process: ChildProcess }> {
  const process = spawn('node', [file, '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const ended = new Promise<void>((resolve) => process.once('exit', () => resolve()));
  const client = await connectClient(
    new StreamMessageReader(process.stdout),
    new StreamMessageWriter(process.stdin),
    () => ended,
  );
  return { ...client, process };
}

export async function connectClient(
  reader: MessageReader,
  writer: MessageWriter,
  ended: () => Promise<void>,
): Promise<TestClient> {
  const connection = createMessageConnection(reader, writer);
  const files = new Map<string, string>();
  const texts = new Map<string, { version: number }>();
  const published = new Map<string, PublishDiagnosticsParams>();
  const listeners = new Set<() => void>();
  const errors: string[] = [];
  let settings: unknown = {};
  let refreshes = 0;

  connection.onRequest<ReadFileResult, void>(readFileRequest, ({ uri }: ReadFileParams): ReadFileResult => {
    const text = files.get(uri);
    return text === undefined ? { error: `There is no ${uri}.` } : { text };
  });
  connection.onRequest(findFilesRequest, () => ({ uris: [...files.keys()] }));
  connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) => items.map(() => settings));
  connection.onRequest('workspace/inlayHint/refresh', () => {
    refreshes += 1;
    return null;
  });
  connection.onRequest('client/registerCapability', () => null);
  connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    published.set(params.uri, params);
    for (const listener of [...listeners]) listener();
  });
  connection.onNotification('window/logMessage', ({ type, message }: { type: number; message: string }) => {
    if (type === 1) errors.push(message);
  });
  connection.listen();
  await connection.sendRequest('initialize', { processId: null, rootUri: null, capabilities });
  void connection.sendNotification('initialized', {});

  const versionOf = (uri: string): number => texts.get(uri)?.version ?? 0;
  return {
    connection,
    files,
    errors,
    refreshes: () => refreshes,
    changeSettings(next) {
      settings = next;
      void connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    },
    open(uri, text) {
      texts.set(uri, { version: 1 });
      void connection.sendNotification('textDocument/didOpen', {
        textDocument: { uri, languageId: 'springwright', version: 1, text },
      });
    },
    change(uri, ...contentChanges) {
      const version = versionOf(uri) + 1;
      texts.set(uri, { version });
      void connection.sendNotification('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
      return version;
    },
    close(uri) {
      texts.delete(uri);
      void connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    },
    diagnostics(uri) {
      return new Promise((resolve) => {
        const look = (): void => {
          const latest = published.get(uri);
          if (latest === undefined || (latest.version !== undefined && latest.version < versionOf(uri))) return;
          listeners.delete(look);
          resolve(latest.diagnostics);
        };
        listeners.add(look);
        look();
      });
    },
    hints: async (uri) =>
      (await connection.sendRequest<InlayHint[] | null>('textDocument/inlayHint', {
        textDocument: { uri },
        range: { start: { line: 0, character: 0 }, end: { line: 100_000, character: 0 } },
      })) ?? [],
    ask: (method, params) => connection.sendRequest(method, params),
    effort: () => connection.sendRequest<Effort>(effortRequest),
    async stop() {
      await connection.sendRequest('shutdown');
      await connection.sendNotification('exit');
      await ended();
      connection.dispose();
    },
  };
}
