/** The preview: one panel that follows the active `.spring` editor. Its page computes what it shows from the texts that it is given here. */
import * as vscode from 'vscode';
import { settingsFrom } from '#features/settings';
import { isLibraryDocument } from './library-documents';
import { pageOptions, renderPage } from './panel-page';
import type { MessageFromExtension, MessageToExtension, PreviewState } from './preview-messages';
import { readFile } from './read-file';

const viewType = 'springwright.preview';
const section = 'springwright';
const previewPage = {
  script: 'preview.js',
  style: 'preview.css',
  worker: 'preview-engine.js',
  title: 'Springwright preview',
};

export function registerPreview(extensionUri: vscode.Uri): vscode.Disposable[] {
  let preview: PreviewPanel | undefined;
  const files = vscode.workspace.createFileSystemWatcher('**/*.spring');

  const adopt = (panel: vscode.WebviewPanel, uri: vscode.Uri, appliance?: string): void => {
    preview?.close();
    const adopted = new PreviewPanel(panel, uri, appliance, extensionUri);
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
    vscode.workspace.onDidChangeTextDocument(({ document }) => preview?.textChanged(document)),
    vscode.workspace.onDidCloseTextDocument(({ uri }) => preview?.closed(uri)),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration(section)) preview?.settingsChanged();
    }),
    files,
    files.onDidChange((uri) => preview?.fileChanged(uri)),
    files.onDidCreate((uri) => preview?.fileChanged(uri)),
    files.onDidDelete((uri) => preview?.fileChanged(uri)),
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
  #uri: vscode.Uri;
  /** To be shown when the document is announced next; then the page's own choice again. */
  #appliance: string | undefined;
  /** Documents that the page has the text of, and is told of when it changes. */
  readonly #given = new Set<string>();

  constructor(panel: vscode.WebviewPanel, uri: vscode.Uri, appliance: string | undefined, extensionUri: vscode.Uri) {
    this.#panel = panel;
    this.#uri = uri;
    this.#appliance = appliance;
    panel.webview.onDidReceiveMessage((message: MessageToExtension) => void this.#receive(message));
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

  textChanged(document: vscode.TextDocument): void {
    if (this.#given.has(document.uri.toString())) this.#give(document);
  }

  closed(uri: vscode.Uri): void {
    if (this.#given.delete(uri.toString())) this.#post({ type: 'closed', uri: uri.toString() });
  }

  fileChanged(uri: vscode.Uri): void {
    this.#post({ type: 'fileChanged', uri: uri.toString() });
  }

  settingsChanged(): void {
    const settings = settingsFrom(vscode.workspace.getConfiguration(undefined, this.#uri).get(section));
    this.#post({ type: 'settings', uri: this.#uri.toString(), settings });
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

  async #receive(message: MessageToExtension): Promise<void> {
    switch (message.type) {
      case 'ready':
        this.#given.clear();
        this.#announce();
        return;
      case 'readFile':
        await this.#read(message.uri);
        return;
      case 'edit':
        await this.#write(message);
        return;
      case 'reveal':
        await reveal(message.uri, message.start, message.end);
    }
  }

  /** Of a file that is open, what stands in the editor. */
  async #read(uri: string): Promise<void> {
    const document = openDocument(vscode.Uri.parse(uri));
    if (document) this.#give(document);
    const read = document ? { text: document.getText() } : await readFile(vscode.Uri.parse(uri));
    this.#post({ type: 'file', uri, ...('text' in read && { text: read.text }) });
  }

  /** As one edit, so that one step takes it back. */
  async #write({ uri, version, changes }: Extract<MessageToExtension, { type: 'edit' }>): Promise<void> {
    const document = openDocument(vscode.Uri.parse(uri));
    if (!document) return;
    const edit = new vscode.WorkspaceEdit();
    if (document.version === version) {
      for (const { start, end, text } of changes) {
        edit.replace(document.uri, new vscode.Range(document.positionAt(start), document.positionAt(end)), text);
      }
    }
    // What cannot be written is shown again as the text has it.
    if (edit.size === 0 || !(await vscode.workspace.applyEdit(edit))) this.#give(document);
  }

  #give(document: vscode.TextDocument): void {
    const uri = document.uri.toString();
    this.#given.add(uri);
    this.#post({ type: 'text', uri, version: document.version, text: document.getText() });
  }

  #announce(): void {
    const appliance = this.#appliance;
    this.#appliance = undefined;
    const document = openDocument(this.#uri);
    if (document) this.#give(document);
    this.settingsChanged();
    this.#post({ type: 'document', uri: this.#uri.toString(), name: fileName(this.#uri), appliance });
  }

  #showName(): void {
    this.#panel.title = vscode.l10n.t('Preview {0}', fileName(this.#uri));
  }

  #post(message: MessageFromExtension): void {
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

/** What is being edited counts, not what is on disk. A document that cannot be opened is explained in the preview. */
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

const openDocument = (uri: vscode.Uri): vscode.TextDocument | undefined =>
  vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
