/** The language server: a thin shell that turns messages into calls of the workspace and the features. */
import { CodeLensRefreshRequest, type Connection, type ResponseError, TextDocuments } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Settings } from '#features/settings';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import { type ClientAbilities, clientAbilities, initializeResult } from './capabilities';
import { createComparer, failedComparison } from './compare';
import { exportResult } from './export';
import { allFeatures, type Features } from './features';
import { cancelled, createGuard, outdated } from './guard';
import type { Host } from './host';
import { type Answer, answerLanguageRequests, type DocumentParams, type OnDocument } from './language-requests';
import { createLiveSettings } from './live-settings';
import {
  type AppliancesParams,
  appliancesRequest,
  type CheckRequirementsResult,
  type CompareParams,
  type CompareResult,
  checkRequirementsRequest,
  compareRequest,
  type Effort,
  type ExplainParams,
  type ExportParams,
  type ExportResult,
  effortRequest,
  explainRequest,
  exportRequest,
  type ReadFileParams,
  type ReadFileResult,
  type ReportTextParams,
  type RequirementsParams,
  type RequirementsResult,
  type ResultsChangedParams,
  readFileRequest,
  reportTextRequest,
  requirementsRequest,
  resultsChangedNotification,
} from './protocol';
import { explainText, reportText } from './report-text';
import { warmUp } from './warm-up';
import { createWorkspaceFiles } from './workspace-files';

/** Serves `connection` until it closes. `features` may be replaced by tests. */
export function startServer(connection: Connection, host: Host, features: Features = allFeatures): void {
  let client: ClientAbilities = clientAbilities({});
  const documents = new TextDocuments(TextDocument);
  const guard = createGuard(connection, host);
  const settings = createLiveSettings(connection, () => client.configuration);
  const workspace = createWorkspace({ readFile: (uri) => readThroughClient(connection, uri), trialsLater: true });
  const files = createWorkspaceFiles(connection, workspace);
  const compare = createComparer(workspace, (uri, revision) => readThroughClient(connection, uri, revision));

  connection.onInitialize(({ capabilities }) => {
    client = clientAbilities(capabilities);
    return initializeResult;
  });

  connection.onInitialized(() => warmUp(host, (slice) => guard.task('warm-up', slice)));

  // Results: recomputed once the messages that have already arrived are handled, for the latest text only.

  const waiting = new Set<string>();

  const refresh = (uris: readonly string[]): void => {
    if (waiting.size === 0 && uris.length > 0) {
      host.defer(() => {
        const now = [...waiting];
        waiting.clear();
        for (const uri of now) void guard.task('results', () => publish(uri));
      });
    }
    for (const uri of uris) waiting.add(uri);
  };

  const publish = async (uri: string): Promise<void> => {
    const { units, severity } = await settings.of(uri);
    const snapshot = await workspace.snapshot(uri, units, severity);
    if (snapshot === undefined || documents.get(uri)?.version !== snapshot.version) return;
    const diagnostics = features.provideDiagnostics(snapshot);
    void connection.sendDiagnostics({ uri, version: snapshot.version, diagnostics });
    const changed: ResultsChangedParams = { uri, version: snapshot.version };
    void connection.sendNotification(resultsChangedNotification, changed);
    if (snapshot.unfinished.length > 0) void guard.task('trial activations', () => finish(snapshot));
  };

  /** What takes longer and is of no requirement comes once nothing else waits, and is given up for a newer text. */
  const finish = async (snapshot: Snapshot): Promise<void> => {
    const { uri, version } = snapshot;
    const going = () => documents.get(uri)?.version === version;
    if (!(await workspace.finish(snapshot, pauseWhile(going))) || !going()) return;
    await publish(uri);
    if (client.refreshesInlayHints) void connection.languages.inlayHint.refresh();
  };

  /** What uses `uri` has new results too; the editor asks again of its own accord only where the text changed. */
  const refreshDependents = (uri: string): void => {
    const dependents = workspace.dependents(uri);
    refresh(dependents);
    if (dependents.length > 0) refreshShown();
  };

  const refreshShown = (): void => {
    if (client.refreshesInlayHints) void connection.languages.inlayHint.refresh();
    if (client.refreshesCodeLenses) void connection.sendRequest(CodeLensRefreshRequest.type);
    if (client.refreshesSemanticTokens) void connection.languages.semanticTokens.refresh();
  };

  documents.onDidChangeContent(({ document }) => {
    workspace.open(document.uri, document.getText(), document.version);
    refresh([document.uri]);
    refreshDependents(document.uri);
  });

  documents.onDidClose(({ document: { uri } }) => {
    workspace.close(uri);
    settings.forget(uri);
    void connection.sendDiagnostics({ uri, diagnostics: [] });
    refreshDependents(uri);
  });

  connection.onDidChangeWatchedFiles(({ changes }) => {
    files.forget();
    for (const { uri } of changes) {
      const dependents = workspace.dependents(uri);
      workspace.forget(uri);
      refresh(dependents);
      if (dependents.length > 0) refreshShown();
    }
  });

  connection.onDidChangeConfiguration(() => {
    settings.forget();
    refresh(workspace.documents());
    refreshShown();
  });

  // Requests.

  /** Lets the messages that have arrived meanwhile be handled, then says whether to go on. */
  const pauseWhile = (going: () => boolean) => () =>
    new Promise<boolean>((resolve) => host.defer(() => resolve(going())));

  /**
   * A request on an open document. Unknown and closed ones yield nothing; so does a text that changes meanwhile. Where
   * `wantsBands` says so the snapshot has bands: they are computed in slices, until the request is cancelled.
   */
  const onDocument: OnDocument = <P extends DocumentParams, R>(
    name: string,
    nothing: R,
    provide: (snapshot: Snapshot, params: P, settings: Settings) => Answer<R>,
    wantsBands: (snapshot: Snapshot, params: P, settings: Settings) => boolean = () => false,
  ) =>
    guard.request<P, R>(name, nothing, async (params, token): Promise<R | ResponseError<void>> => {
      const { uri } = params.textDocument;
      const version = documents.get(uri)?.version;
      if (version === undefined) return nothing;
      const current = await settings.of(uri);
      const plain = await workspace.snapshot(uri, current.units, current.severity);
      if (token.isCancellationRequested) return cancelled();
      if (plain === undefined) return nothing;
      const going = () => !token.isCancellationRequested && documents.get(uri)?.version === version;
      const snapshot = wantsBands(plain, params, current)
        ? await workspace.withBands(plain, { pause: pauseWhile(going) })
        : plain;
      if (token.isCancellationRequested) return cancelled();
      if (snapshot.version !== version || documents.get(uri)?.version !== version) return outdated();
      const answer = await provide(snapshot, params, current);
      return documents.get(uri)?.version === version ? answer : outdated();
    });

  answerLanguageRequests({ connection, guard, features, onDocument, files });

  connection.onRequest(
    appliancesRequest,
    guard.request<AppliancesParams, readonly string[]>('appliances', [], async ({ uri }) => {
      const source = await workspace.source(uri);
      return source ? source.file.appliances.map(({ name }) => name) : [];
    }),
  );
  connection.onRequest(
    exportRequest,
    guard.request<ExportParams, ExportResult | null>('export', null, async (params, token) => {
      const current = await settings.of(params.uri);
      const snapshotNow = () => workspace.snapshot(params.uri, current.units, current.severity);
      const pause = pauseWhile(() => !token.isCancellationRequested);
      const first = await snapshotNow();
      // On paper there is no later: what a trial activation would change belongs to it.
      if (first && !(await workspace.finish(first, pause))) return cancelled();
      const snapshot = await snapshotNow();
      if (!(await pause())) return cancelled();
      return snapshot ? exportResult(snapshot, params, current) : null;
    }),
  );
  connection.onRequest(
    compareRequest,
    guard.request<CompareParams, CompareResult>('compare', failedComparison('It failed.'), async (params) =>
      compare(params, await settings.of(params.after.uri)),
    ),
  );
  connection.onRequest(
    reportTextRequest,
    guard.request<ReportTextParams, string>('report', 'The report failed.', (params) =>
      reportText(params, workspace, settings.of),
    ),
  );
  connection.onRequest(
    explainRequest,
    guard.request<ExplainParams, string>('explain', 'The explanation failed.', explainText),
  );
  connection.onRequest(
    requirementsRequest,
    guard.request<RequirementsParams, RequirementsResult>('requirements', [], async ({ uri }) => {
      const source = await workspace.source(uri);
      return source ? features.provideRequirements(source) : [];
    }),
  );
  connection.onRequest(
    checkRequirementsRequest,
    guard.request<RequirementsParams, CheckRequirementsResult>('check of requirements', null, async ({ uri }) => {
      const current = await settings.of(uri);
      const snapshot = await workspace.snapshot(uri, current.units, current.severity);
      return snapshot ? features.checkRequirements(snapshot) : null;
    }),
  );
  connection.onRequest(effortRequest, (): Effort => ({ ...workspace.effort, requests: guard.effort }));

  documents.listen(connection);
  connection.listen();
}

/** Files come from the editor, so that remote, virtual and local workspaces behave alike. */
async function readThroughClient(connection: Connection, uri: string, revision?: string): Promise<string | undefined> {
  const params: ReadFileParams = { uri, ...(revision !== undefined && { revision }) };
  const result = await connection.sendRequest<ReadFileResult>(readFileRequest, params);
  return 'text' in result ? result.text : undefined;
}
