/** Writes an appliance to a file of the user's choice: drawing, template, tables, or a sheet to print. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type AppliancesParams,
  appliancesRequest,
  type ExportParams,
  type ExportResult,
  exportRequest,
} from '#lsp/protocol';
import { asPixels, type ExportedFile, handoutParts } from './built-files';

type Kind = Pick<ExportParams, 'format' | 'paper'> & {
  /** What is sent along, and what is made of the answer, with files of the extension's own. */
  readonly sent?: (extensionUri: vscode.Uri) => Promise<Partial<ExportParams>>;
  readonly finish?: (file: ExportedFile, extensionUri: vscode.Uri) => Promise<ExportedFile>;
};

const kinds: readonly (vscode.QuickPickItem & Kind)[] = [
  {
    label: vscode.l10n.t('Sheet to Print, A4 (PDF)'),
    description: vscode.l10n.t('template, forces, requirements, bending plan'),
    format: 'sheet',
    paper: 'A4',
  },
  {
    label: vscode.l10n.t('Sheet to Print, Letter (PDF)'),
    description: vscode.l10n.t('template, forces, requirements, bending plan'),
    format: 'sheet',
    paper: 'Letter',
  },
  {
    label: vscode.l10n.t('Chairside Card, A4 (PDF)'),
    description: vscode.l10n.t('how far to activate and what to look for'),
    format: 'card',
    paper: 'A4',
  },
  {
    label: vscode.l10n.t('Chairside Card, Letter (PDF)'),
    description: vscode.l10n.t('how far to activate and what to look for'),
    format: 'card',
    paper: 'Letter',
  },
  {
    label: vscode.l10n.t('Drawing (SVG)'),
    description: vscode.l10n.t('with forces and moments'),
    format: 'svg',
    paper: 'A4',
  },
  {
    label: vscode.l10n.t('Drawing (PNG)'),
    description: vscode.l10n.t('with forces and moments'),
    format: 'svg',
    paper: 'A4',
    finish: asPixels,
  },
  {
    label: vscode.l10n.t('Template at Actual Size (SVG)'),
    description: vscode.l10n.t('the passive shape in millimetres'),
    format: 'template',
    paper: 'A4',
  },
  {
    label: vscode.l10n.t('Template at Actual Size (PDF)'),
    description: vscode.l10n.t('the passive shape on a page as large as it is'),
    format: 'template-pdf',
    paper: 'A4',
  },
  {
    label: vscode.l10n.t('Centre Lines (DXF)'),
    description: vscode.l10n.t('all shapes in millimetres'),
    format: 'dxf',
    paper: 'A4',
  },
  { label: vscode.l10n.t('Points of the Shapes (CSV)'), format: 'shapes', paper: 'A4' },
  { label: vscode.l10n.t('Curves over the Activation (CSV)'), format: 'curves', paper: 'A4' },
  { label: vscode.l10n.t('Shapes and Curves (JSON)'), format: 'json', paper: 'A4' },
  {
    label: vscode.l10n.t('Handout (HTML)'),
    description: vscode.l10n.t('the whole file as a page with sliders and charts, for others to try out'),
    format: 'handout',
    paper: 'A4',
    sent: handoutParts,
  },
];

export function registerExport(extensionUri: vscode.Uri, client: BaseLanguageClient): vscode.Disposable {
  return vscode.commands.registerCommand('springwright.export', async (resource?: vscode.Uri) => {
    const uri = resource ?? vscode.window.activeTextEditor?.document.uri;
    if (!uri) {
      void vscode.window.showInformationMessage(
        vscode.l10n.t('Open a .spring file first: the file in the editor is exported.'),
      );
      return;
    }
    await vscode.workspace.openTextDocument(uri);
    const appliance = await chooseAppliance(uri, client);
    if (appliance === undefined) return;
    const kind = await vscode.window.showQuickPick(kinds, {
      title: vscode.l10n.t('Export {0}', appliance),
      matchOnDescription: true,
    });
    if (!kind) return;
    const { format, paper } = kind;
    const path = vscode.workspace.asRelativePath(uri, false);
    const result = await made({ uri: uri.toString(), appliance, format, paper, path }, kind, extensionUri, client);
    if (result === undefined) return;
    if ('file' in result) await save(vscode.Uri.joinPath(uri, '..', result.file.name), result.file.bytes);
    else void vscode.window.showErrorMessage(vscode.l10n.t('Nothing was exported. {0}', result.failure));
  });
}

/** Undefined where the user chose none. */
async function chooseAppliance(uri: vscode.Uri, client: BaseLanguageClient): Promise<string | undefined> {
  const params: AppliancesParams = { uri: uri.toString() };
  const names = await client.sendRequest<string[]>(appliancesRequest, params);
  if (names.length === 0) {
    void vscode.window.showInformationMessage(vscode.l10n.t('This file has no appliance to export yet.'));
    return undefined;
  }
  return names.length === 1
    ? names[0]
    : vscode.window.showQuickPick(names, { title: vscode.l10n.t('Export which appliance?') });
}

/** With progress, which can be cancelled: a wire that yields in space takes its time. Undefined where it was. */
function made(
  params: ExportParams,
  { sent, finish }: Kind,
  extensionUri: vscode.Uri,
  client: BaseLanguageClient,
): Thenable<{ readonly file: ExportedFile } | { readonly failure: string } | undefined> {
  const options = {
    location: vscode.ProgressLocation.Notification,
    title: vscode.l10n.t('Springwright: exporting'),
    cancellable: true,
  };
  return vscode.window.withProgress(options, async (_, token) => {
    try {
      const whole = { ...params, ...(await sent?.(extensionUri)) };
      const result = await client.sendRequest<ExportResult | null>(exportRequest, whole, token);
      if (token.isCancellationRequested) return undefined;
      if (!result?.file) return { failure: result?.failure ?? vscode.l10n.t('The file is not open.') };
      const file = { name: result.file.name, bytes: fromBase64(result.file.base64) };
      return { file: finish ? await finish(file, extensionUri) : file };
    } catch (error) {
      return token.isCancellationRequested ? undefined : { failure: words(error) };
    }
  });
}

async function save(beside: vscode.Uri, bytes: Uint8Array): Promise<void> {
  const target = await vscode.window.showSaveDialog({ defaultUri: beside });
  if (!target) return;
  try {
    await vscode.workspace.fs.writeFile(target, bytes);
    void vscode.window.showInformationMessage(
      vscode.l10n.t('Exported to {0}.', vscode.workspace.asRelativePath(target)),
    );
  } catch (error) {
    void vscode.window.showErrorMessage(vscode.l10n.t('Nothing was exported. {0}', words(error)));
  }
}

function fromBase64(letters: string): Uint8Array {
  return Uint8Array.from(atob(letters), (letter) => letter.charCodeAt(0));
}

function words(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
