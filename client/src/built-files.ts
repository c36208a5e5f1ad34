/** What exports take from files that lie beside the extension: the renderer of pixels with its fonts, the page of handouts. */
import * as vscode from 'vscode';
import type { ExportParams } from '#lsp/protocol';

export interface ExportedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What every handout carries. */
export async function handoutParts(extensionUri: vscode.Uri): Promise<Pick<ExportParams, 'built'>> {
  const [script, style] = await readBuilt(extensionUri, ['handout.js', 'handout.css']);
  const decoder = new TextDecoder();
  return { built: { script: decoder.decode(script), style: decoder.decode(style) } };
}

/** An SVG as pixels, two for each of its own. */
export async function asPixels({ name, bytes }: ExportedFile, extensionUri: vscode.Uri): Promise<ExportedFile> {
  const [wasm, ...fonts] = await readBuilt(extensionUri, ['resvg.wasm', 'DejaVuSans.ttf', 'DejaVuSans-Bold.ttf']);
  const { drawingPng } = await import('#sheet/png');
  const pixels = await drawingPng(new TextDecoder().decode(bytes), 2, { wasm, fonts });
  return { name: name.replace(/\.svg$/, '.png'), bytes: pixels };
}

function readBuilt(extensionUri: vscode.Uri, names: readonly string[]): Promise<Uint8Array[]> {
  return Promise.all(
    names.map(async (name) => vscode.workspace.fs.readFile(vscode.Uri.joinPath(extensionUri, 'dist', name))),
  );
}
