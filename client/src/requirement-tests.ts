/** The requirements of all files in the Testing view: by file and appliance, checked on demand or at every save. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type CheckRequirementsResult,
  checkRequirementsRequest,
  type RequirementsParams,
  type RequirementsResult,
  type ResultsChangedParams,
  requirementsRequest,
} from '#lsp/protocol';
import { findFiles } from './find-files';
import { isLibraryDocument } from './library-documents';

type Checked = NonNullable<CheckRequirementsResult>['verdicts'][number];

export function registerRequirementTests(
  client: BaseLanguageClient,
  onDidChangeResults: vscode.Event<ResultsChangedParams>,
): vscode.Disposable[] {
  const controller = vscode.tests.createTestController('springwright', vscode.l10n.t('Springwright Requirements'));
  const { items } = controller;
  const watcher = vscode.workspace.createFileSystemWatcher('**/*.spring');

  const fileItem = (uri: vscode.Uri): vscode.TestItem => {
    const known = items.get(uri.toString());
    if (known) return known;
    const item = controller.createTestItem(uri.toString(), vscode.workspace.asRelativePath(uri), uri);
    items.add(item);
    return item;
  };

  /** Lists what is written in the file now; whether a requirement was met before stays with it. */
  const list = async (file: vscode.TestItem): Promise<void> => {
    const params: RequirementsParams = { uri: file.id };
    const listed = await client.sendRequest<RequirementsResult>(requirementsRequest, params).catch(() => []);
    file.children.replace(
      listed.map(({ appliance, range, requirements }) => {
        const parent = file.children.get(appliance) ?? controller.createTestItem(appliance, appliance, file.uri);
        parent.range = rangeOf(range);
        parent.children.replace(
          requirements.map(({ id, kind, condition, stage, range: own }) => {
            const item = parent.children.get(id) ?? controller.createTestItem(id, condition, file.uri);
            item.range = rangeOf(own);
            item.description = kind === 'prefer' ? vscode.l10n.t('preferred, {0}', stage) : stage;
            return item;
          }),
        );
        return parent;
      }),
    );
    if (listed.length === 0) items.delete(file.id);
  };

  const check = async (request: vscode.TestRunRequest, token: vscode.CancellationToken): Promise<void> => {
    const run = controller.createTestRun(request);
    const files = filesOf(request, items);
    const excluded = new Set(request.exclude);
    const isWanted = (item: vscode.TestItem): boolean => {
      const line = lineage(item);
      return !line.some((one) => excluded.has(one)) && (request.include?.some((one) => line.includes(one)) ?? true);
    };
    try {
      for (const file of files) {
        if (token.isCancellationRequested) break;
        await list(file);
        const wanted = childrenOf(file).flatMap(childrenOf).filter(isWanted);
        for (const item of wanted) run.started(item);
        const params: RequirementsParams = { uri: file.id };
        const result = await client
          .sendRequest<CheckRequirementsResult>(checkRequirementsRequest, params, token)
          .catch((error: unknown) => ({ failure: String(error), verdicts: [] }));
        for (const item of wanted) report(run, item, result);
      }
    } finally {
      run.end();
    }
  };

  /** On demand, or at every save until that is switched off again. */
  const start = (request: vscode.TestRunRequest, token: vscode.CancellationToken): Promise<void> | undefined => {
    if (!request.continuous) return check(request, token);
    const saving = vscode.workspace.onDidSaveTextDocument(({ uri }) => {
      const file = items.get(uri.toString());
      const included = request.include?.filter((item) => lineage(item).includes(file ?? item)) ?? (file ? [file] : []);
      if (!file || included.length === 0) return;
      void check(new vscode.TestRunRequest(included, request.exclude, request.profile, true, true), token);
    });
    token.onCancellationRequested(() => saving.dispose());
    return undefined;
  };

  const discover = async (): Promise<void> => {
    for (const uri of await findFiles()) await list(fileItem(uri));
  };
  controller.resolveHandler = (item) => (item ? list(item) : discover());
  controller.refreshHandler = async () => {
    items.replace([]);
    await discover();
  };
  const label = vscode.l10n.t('Check Requirements');
  controller.createRunProfile(label, vscode.TestRunProfileKind.Run, start, true, undefined, true);

  /** The text has changed: what was found before no longer counts. */
  const changed = async ({ uri }: ResultsChangedParams): Promise<void> => {
    const own = vscode.Uri.parse(uri);
    if (isLibraryDocument(own)) return;
    const file = fileItem(own);
    await list(file);
    controller.invalidateTestResults(file);
  };

  return [
    controller,
    watcher,
    watcher.onDidCreate((uri) => void list(fileItem(uri))),
    watcher.onDidChange((uri) => void list(fileItem(uri))),
    watcher.onDidDelete((uri) => items.delete(uri.toString())),
    onDidChangeResults((params) => void changed(params)),
    vscode.workspace.onDidCloseTextDocument(({ uri, isUntitled }) => {
      if (isUntitled) items.delete(uri.toString());
    }),
  ];
}

function report(run: vscode.TestRun, item: vscode.TestItem, result: CheckRequirementsResult): void {
  const verdict = result?.verdicts.find(({ appliance, id }) => appliance === item.parent?.id && id === item.id);
  const location = item.uri && item.range ? new vscode.Location(item.uri, item.range) : undefined;
  if (!verdict) {
    const gone = vscode.l10n.t('This requirement is not there any more.');
    run.errored(item, messageAt(result?.failure ?? gone, location));
    return;
  }
  const { outcome, message } = verdict;
  item.description = [item.description, figures(verdict)].filter(Boolean).join(': ');
  run.appendOutput(`${item.label}\r\n`, undefined, item);
  run.appendOutput(`  ${message}\r\n`, location, item);
  if (outcome === 'met') run.passed(item);
  else if (outcome === 'missed') run.failed(item, withFigures(messageAt(message, location), verdict));
  else run.errored(item, messageAt(message, location));
}

/** "124 gf, 24 gf inside" */
function figures({ actual, margin }: Checked): string {
  return [actual, margin].filter((part) => part !== undefined).join(', ');
}

function messageAt(text: string, location: vscode.Location | undefined): vscode.TestMessage {
  const message = new vscode.TestMessage(text);
  message.location = location;
  return message;
}

/** The editor lays them side by side. */
function withFigures(message: vscode.TestMessage, { actual, expected, margin }: Checked): vscode.TestMessage {
  if (actual === undefined || expected === undefined) return message;
  message.expectedOutput = expected;
  message.actualOutput = margin === undefined ? actual : `${actual}, ${margin}`;
  return message;
}

/** Files that hold something of what is to be checked. */
function filesOf({ include }: vscode.TestRunRequest, items: vscode.TestItemCollection): vscode.TestItem[] {
  const asked = include ?? [...items].map(([, item]) => item);
  return [...new Set(asked.flatMap((item) => lineage(item).at(-1) ?? []))];
}

/** The item, then what holds it, up to the file. */
function lineage(item: vscode.TestItem): vscode.TestItem[] {
  return item.parent ? [item, ...lineage(item.parent)] : [item];
}

function childrenOf(item: vscode.TestItem): vscode.TestItem[] {
  return [...item.children].map(([, child]) => child);
}

function rangeOf({ start, end }: RequirementsResult[number]['range']): vscode.Range {
  return new vscode.Range(start.line, start.character, end.line, end.character);
}
