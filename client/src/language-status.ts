/** What Springwright is doing, beside the language's name in the status bar: computing, what it came to, or that it has stopped. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import {
  type CheckRequirementsResult,
  checkRequirementsRequest,
  type RequirementsParams,
  type ResultsChangedParams,
} from '#lsp/protocol';

export function registerLanguageStatus(
  client: BaseLanguageClient,
  onDidChangeResults: vscode.Event<ResultsChangedParams>,
): vscode.Disposable[] {
  const item = vscode.languages.createLanguageStatusItem('springwright.state', { language: 'springwright' });
  item.name = 'Springwright';

  const shown = (): vscode.TextDocument | undefined => {
    const document = vscode.window.activeTextEditor?.document;
    return document?.languageId === 'springwright' ? document : undefined;
  };
  const busy = (): void => {
    item.busy = true;
    item.text = vscode.l10n.t('Computing');
    item.severity = vscode.LanguageStatusSeverity.Information;
  };
  const tell = async (document: vscode.TextDocument): Promise<void> => {
    const params: RequirementsParams = { uri: document.uri.toString() };
    const result = await client
      .sendRequest<CheckRequirementsResult>(checkRequirementsRequest, params)
      .catch(() => undefined);
    // A newer text is computed already.
    if (result === undefined || document !== shown()) return;
    item.busy = false;
    Object.assign(item, stateOf(result));
  };
  const look = (): void => {
    const document = shown();
    if (document && client.state === State.Running) void tell(document);
  };

  busy();
  return [
    item,
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (contentChanges.length > 0 && document === shown()) busy();
    }),
    vscode.window.onDidChangeActiveTextEditor(look),
    onDidChangeResults(({ uri, version }) => {
      const document = shown();
      if (!document || vscode.Uri.parse(uri).toString() !== document.uri.toString()) return;
      if (version === document.version) void tell(document);
    }),
    client.onDidChangeState(({ newState }) => {
      if (newState === State.Running) look();
      else if (newState === State.Starting) busy();
      else {
        item.busy = false;
        item.text = vscode.l10n.t('Stopped');
        item.detail = vscode.l10n.t('The language server has ended: reload the window to start it again.');
        item.severity = vscode.LanguageStatusSeverity.Error;
      }
    }),
  ];
}

function stateOf(
  result: CheckRequirementsResult,
): Pick<vscode.LanguageStatusItem, 'text' | 'detail' | 'severity' | 'command'> {
  const { Error: bad, Warning: warning, Information: good } = vscode.LanguageStatusSeverity;
  if (result?.failure !== undefined) {
    const detail = vscode.l10n.t('What is shown is of an earlier text. {0}', result.failure);
    return { text: vscode.l10n.t('Errors'), detail, severity: bad, command: undefined };
  }
  const verdicts = result?.verdicts ?? [];
  const met = verdicts.filter(({ outcome }) => outcome === 'met').length;
  if (verdicts.length === 0) {
    return {
      text: vscode.l10n.t('Computed'),
      detail: vscode.l10n.t('no requirements'),
      severity: good,
      command: undefined,
    };
  }
  return {
    text: vscode.l10n.t('{0} of {1} requirements met', met, verdicts.length),
    detail: undefined,
    severity: met === verdicts.length ? good : warning,
    command: { command: 'workbench.view.testing.focus', title: vscode.l10n.t('Show as Tests') },
  };
}
