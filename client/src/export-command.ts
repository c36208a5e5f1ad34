/** Writes an appliance to a file of the user's choice: drawing, template, tables, or a sheet to print. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type ExportParams,
  type ExportResult,
  exportRequest,
  type PreviewContent,
  type PreviewParams,
  previewRequest,
} from '#lsp/protocol';

type Kind = Pick<ExportParams, 'format' | 'paper'>;

const kinds: readonly (vscode.QuickPickItem & Kind)[] = [
  {
    label: 'Sheet to Print, A4 (PDF)',
    description: 'template, forces, requirements, bending plan',
    format: 'sheet',
    paper: 'A4',
  },
  {
    label: 'Sheet to Print, Letter (PDF)',
    description: 'template, forces, requirements, bending plan',
    format: 'sheet',
    paper: 'Letter',
  },
  {
    label: 'Chairside Card, A4 (PDF)',
    description: 'how far to activate and what to look for',
    format: 'card',
    paper: 'A4',
  },
  {
    label: 'Chairside Card, Letter (PDF)',
    description: 'how far to activate and what to look for',
    format: 'card',
    paper: 'Letter',
  },
  { label: 'Drawing (SVG)', description: 'with forces and moments', format: 'svg', paper: 'A4' },
  {
    label: 'Template at Actual Size (SVG)',
    description: 'the passive shape in millimetres',
    format: 'template',
    paper: 'A4',
  },
  { label: 'Centre Lines (DXF)', description: 'all shapes in millimetres', format: 'dxf', paper: 'A4' },
  { label: 'Points of the Shapes (CSV)', format: 'shapes', paper: 'A4' },
  { label: 'Curves over the Activation (CSV)', format: 'curves', paper: 'A4' },
  { label: 'Shapes and Curves (JSON)', format: 'json', paper: 'A4' },
];

export function registerExport(client: BaseLanguageClient): vscode.Disposable {
  return vscode.commands.registerCommand('springwright.export', async (resource?: vscode.Uri) => {
    const uri = resource ?? vscode.window.activeTextEditor?.document.uri;
    if (!uri) {
      void vscode.window.showInformationMessage('Open a .spring file first: the file in the editor is exported.');
      return;
    }
    await vscode.workspace.openTextDocument(uri);
    const appliance = await chooseAppliance(uri, client);
    if (appliance === undefined) return;
    const kind = await vscode.window.showQuickPick(kinds, { title: `Export ${appliance}`, matchOnDescription: true });
    if (!kind) return;
    const { format, paper } = kind;
    const path = vscode.workspace.asRelativePath(uri, false);
    const result = await made({ uri: uri.toString(), appliance, format, paper, path }, client);
    if (result === undefined) return;
    const { file, failure } = result;
    if (file) await save(vscode.Uri.joinPath(uri, '..', file.name), file.base64);
    else void vscode.window.showErrorMessage(`Nothing was exported. ${failure ?? ''}`);
  });
}

/** Undefined where the user chose none. */
async function chooseAppliance(uri: vscode.Uri, client: BaseLanguageClient): Promise<string | undefined> {
  const params: PreviewParams = { uri: uri.toString() };
  const content = await client.sendRequest<PreviewContent | null>(previewRequest, params);
  const names = content?.appliances ?? [];
  if (names.length === 0) {
    void vscode.window.showInformationMessage('This file has no appliance to export yet.');
    return undefined;
  }
  return names.length === 1 ? names[0] : vscode.window.showQuickPick(names, { title: 'Export which appliance?' });
}

/** With progress, which can be cancelled: a wire that yields in space takes its time. */
function made(params: ExportParams, client: BaseLanguageClient): Thenable<ExportResult | undefined> {
  const options = {
    location: vscode.ProgressLocation.Notification,
    title: 'Springwright: exporting',
    cancellable: true,
  };
  return vscode.window.withProgress(options, async (_, token) => {
    const failed = (failure: string): ExportResult => ({ file: undefined, failure });
    const result = await client
      .sendRequest<ExportResult | null>(exportRequest, params, token)
      .catch((error: Error) => failed(error.message));
    return token.isCancellationRequested ? undefined : (result ?? failed('The file is not open.'));
  });
}

async function save(beside: vscode.Uri, base64: string): Promise<void> {
  const target = await vscode.window.showSaveDialog({ defaultUri: beside });
  if (!target) return;
  try {
    await vscode.workspace.fs.writeFile(
      target,
      Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)),
    );
    void vscode.window.showInformationMessage(`Exported to ${vscode.workspace.asRelativePath(target)}.`);
  } catch (error) {
    void vscode.window.showErrorMessage(
      `Nothing was exported: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
}
