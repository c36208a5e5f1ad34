/** The preview: one panel that follows the active `.spring` editor and shows what the server draws of it. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type ParameterEdit,
  type ParameterEditParams,
  type PreviewContent,
  type PreviewParams,
  parameterEditRequest,
  previewRequest,
  type ResultsChangedParams,
} from '#lsp/protocol';
import { isLibraryDocument } from './library-documents';
import { pageOptions, renderPage } from './panel-page';
import type { MessageFromPage, MessageToPage, PreviewState } from './preview-messages';

const viewType = 'springwright.preview';
const previewPage = { script: 'preview.js', style: 'preview.css', title: 'Springwright preview' };

export function registerPreview(
  extensionUri: vscode.Uri,
  client: BaseLanguageClient,
  onDidChangeResults: vscode.Event<ResultsChangedParams>,
): vscode.Disposable[] {
  let preview: PreviewPanel | undefined;

  const adopt = (panel: vscode.WebviewPanel, uri: vscode.Uri, appliance?: string): void => {
    preview?.close();
    const adopted = new PreviewPanel(panel, uri, appliance, extensionUri, client);
    preview = adopted;
    panel.onDidDispose(() => {
      if (preview === adopted) preview = undefined;
    });
  };

  /** From a menu with a uri; from a code lens with a uri as text, and an appliance's name. */
  const open = async (resource?: vscode.Uri | string, appliance?: string): Promise<void> => {
    const uri = typeof resource === 'string' ? vscode.Uri.parse(resource) : (resource ?? activeDesign()?.uri);
    if (!uri) {
      void vscode.window.showInformationMessage(
        vscode.l10n.t('Open a .spring file first: the preview shows the file in the editor.'),
      );
      return;
    }
    await load(uri);
    if (preview) {
      preview.follow(uri, named(appliance));
      preview.reveal();
      return;
    }
    const column = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    adopt(
      vscode.window.createWebviewPanel(viewType, vscode.l10n.t('Preview'), column, pageOptions(extensionUri)),
      uri,
      named(appliance),
    );
  };

  return [
    vscode.commands.registerCommand('springwright.openPreview', open),
    vscode.window.onDidChangeActiveTextEditor((editor) => {
      if (editor && isDesign(editor.document)) preview?.follow(editor.document.uri);
    }),
    vscode.window.onDidChangeTextEditorSelection(({ textEditor: { document, selection } }) => {
      if (isDesign(document)) preview?.cursor(document.uri, document.offsetAt(selection.active));
    }),
    onDidChangeResults(({ uri }) => preview?.changed(uri)),
    vscode.window.registerWebviewPanelSerializer(viewType, {
      async deserializeWebviewPanel(panel, state: PreviewState | undefined) {
        const uri = uriToRestore(state);
        if (!uri) {
          panel.dispose();
          return;
        }
        panel.webview.options = pageOptions(extensionUri);
        await load(uri);
        adopt(panel, uri);
      },
    }),
    { dispose: () => preview?.close() },
  ];
}

class PreviewPanel {
  readonly #panel: vscode.WebviewPanel;
  readonly #client: BaseLanguageClient;
  #uri: vscode.Uri;
  /** To be shown when the document is announced next; then the page's own choice again. */
  #appliance: string | undefined;

  constructor(
    panel: vscode.WebviewPanel,
    uri: vscode.Uri,
    appliance: string | undefined,
    extensionUri: vscode.Uri,
    client: BaseLanguageClient,
  ) {
    this.#panel = panel;
    this.#client = client;
    this.#uri = uri;
    this.#appliance = appliance;
    panel.webview.onDidReceiveMessage((message: MessageFromPage) => void this.#receive(message));
    panel.webview.html = renderPage(panel.webview, extensionUri, previewPage);
    this.#showName();
  }

  follow(uri: vscode.Uri, appliance?: string): void {
    if (uri.toString() === this.#uri.toString() && appliance === undefined) return;
    this.#uri = uri;
    this.#appliance = appliance;
    this.#showName();
    this.#announce();
  }

  changed(uri: string): void {
    if (isSame(uri, this.#uri)) this.#post({ type: 'changed', uri: this.#uri.toString() });
  }

  cursor(uri: vscode.Uri, offset: number): void {
    if (uri.toString() === this.#uri.toString()) this.#post({ type: 'cursor', uri: uri.toString(), offset });
  }

  reveal(): void {
    this.#panel.reveal(undefined, true);
  }

  close(): void {
    this.#panel.dispose();
  }

  async #receive(message: MessageFromPage): Promise<void> {
    if (message.type === 'ready') this.#announce();
    else if (message.type === 'ask') await this.#answer(message.params);
    else if (message.type === 'askBands') await this.#answerBands(message.params);
    else if (message.type === 'reveal') await reveal(message.uri, message.start, message.end);
    else await this.#write(message.params);
  }

  /** As one edit, so that one step takes it back. */
  async #write(params: ParameterEditParams): Promise<void> {
    const uri = vscode.Uri.parse(params.uri);
    const edit = await this.#client.sendRequest<ParameterEdit | null>(parameterEditRequest, params).catch(() => null);
    const document = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
    const change = new vscode.WorkspaceEdit();
    if (edit && document?.version === edit.version) {
      for (const { range, newText } of edit.edits) {
        const { start, end } = range;
        change.replace(uri, new vscode.Range(start.line, start.character, end.line, end.character), newText);
      }
    }
    // What cannot be written is shown again as the text has it.
    if (change.size === 0 || !(await vscode.workspace.applyEdit(change))) this.changed(params.uri);
  }

  async #answerBands(params: PreviewParams): Promise<void> {
    const { uri } = params;
    try {
      const content = await this.#client.sendRequest<PreviewContent | null>(previewRequest, { ...params, bands: true });
      if (content) this.#post({ type: 'bands', uri, content });
    } catch {
      // Given up for a newer request, whose answer asks for bands again.
    }
  }

  async #answer(params: PreviewParams): Promise<void> {
    const { uri } = params;
    try {
      const content = await this.#client.sendRequest<PreviewContent | null>(previewRequest, params);
      this.#post({ type: 'answer', uri, content: content ?? undefined });
    } catch (error) {
      this.#post({ type: 'answer', uri, failure: error instanceof Error ? error.message : String(error) });
    }
  }

  #announce(): void {
    const appliance = this.#appliance;
    this.#appliance = undefined;
    this.#post({ type: 'document', uri: this.#uri.toString(), name: fileName(this.#uri), appliance });
  }

  #showName(): void {
    this.#panel.title = vscode.l10n.t('Preview {0}', fileName(this.#uri));
  }

  #post(message: MessageToPage): void {
    void this.#panel.webview.postMessage(message);
  }
}

/** Beside the preview where it is open already. */
async function reveal(uri: string, start: number, end: number): Promise<void> {
  const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
  const open = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
  const selection = new vscode.Range(document.positionAt(start), document.positionAt(end));
  const viewColumn = open?.viewColumn ?? vscode.ViewColumn.One;
  await vscode.window.showTextDocument(document, { viewColumn, selection, preserveFocus: false });
}

/** The server answers for open documents only. One that cannot be opened is explained in the preview. */
async function load(uri: vscode.Uri): Promise<void> {
  try {
    await vscode.workspace.openTextDocument(uri);
  } catch {
    // Gone or unreadable: the preview says that there is no such open file.
  }
}

/** The window may have come back with another file in front than the one that was drawn last. */
function uriToRestore(state: PreviewState | undefined): vscode.Uri | undefined {
  const active = vscode.window.activeTextEditor?.document;
  if (active && isDesign(active)) return active.uri;
  return state?.uri ? vscode.Uri.parse(state.uri) : activeDesign()?.uri;
}

function activeDesign(): vscode.TextDocument | undefined {
  const editors = [vscode.window.activeTextEditor, ...vscode.window.visibleTextEditors];
  return editors.map((editor) => editor?.document).find((document) => document && isDesign(document));
}

/** The bundled library is read while the design that uses it stays drawn. */
const isDesign = ({ languageId, uri }: vscode.TextDocument): boolean =>
  languageId === 'springwright' && !isLibraryDocument(uri);

/** The editor's menus pass arguments of their own after the uri. */
const named = (appliance: unknown): string | undefined => (typeof appliance === 'string' ? appliance : undefined);

const fileName = (uri: vscode.Uri): string => uri.path.slice(uri.path.lastIndexOf('/') + 1);

/** The server may escape other characters of a uri than the editor does. */
const isSame = (uri: string, own: vscode.Uri): boolean => vscode.Uri.parse(uri).toString() === own.toString();
