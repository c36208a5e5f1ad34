/** What changed between two files or revisions, in a panel of its own that follows the texts as they are edited. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type CompareParams, type CompareResult, compareRequest, type ResultsChangedParams } from '#lsp/protocol';
import type { CompareState, MessageFromComparePage, MessageToComparePage } from './compare-messages';
import { pageOptions, renderPage } from './panel-page';

const viewType = 'springwright.comparison';
const page = { script: 'compare.js', style: 'compare.css', title: 'Springwright comparison' };

export interface ComparePanels extends vscode.Disposable {
  open(params: CompareParams): void;
}

export function registerComparePanels(
  extensionUri: vscode.Uri,
  client: BaseLanguageClient,
  onDidChangeResults: vscode.Event<ResultsChangedParams>,
): ComparePanels {
  const fill = (panel: vscode.WebviewPanel, params: CompareParams): void => {
    panel.title = `${params.before.name} ↔ ${params.after.name}`;
    const show = async (): Promise<void> => {
      const message: MessageToComparePage = { params, ...(await compared(params, client)) };
      void panel.webview.postMessage(message);
    };
    const following = onDidChangeResults(({ uri }) => {
      const changed = vscode.Uri.parse(uri).toString();
      const live = [params.before, params.after].filter(({ revision }) => revision === undefined);
      if (live.some((side) => vscode.Uri.parse(side.uri).toString() === changed)) void show();
    });
    panel.onDidDispose(() => following.dispose());
    panel.webview.onDidReceiveMessage(({ type }: MessageFromComparePage) => {
      if (type === 'ready') void show();
    });
    panel.webview.html = renderPage(panel.webview, extensionUri, page);
  };

  const restoring = vscode.window.registerWebviewPanelSerializer(viewType, {
    async deserializeWebviewPanel(panel, state: CompareState | undefined) {
      panel.webview.options = pageOptions(extensionUri);
      if (state?.params) fill(panel, state.params);
      else panel.dispose();
    },
  });
  return {
    open(params) {
      const options = pageOptions(extensionUri);
      fill(vscode.window.createWebviewPanel(viewType, '', vscode.ViewColumn.Active, options), params);
    },
    dispose: () => restoring.dispose(),
  };
}

async function compared(params: CompareParams, client: BaseLanguageClient): Promise<CompareResult> {
  try {
    return await client.sendRequest<CompareResult>(compareRequest, params);
  } catch (error) {
    return { content: undefined, failure: error instanceof Error ? error.message : String(error) };
  }
}
