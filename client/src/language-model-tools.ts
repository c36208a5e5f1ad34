/**
 * What a language model in the editor may ask: check, analyse, explain. Each answers from the files in the folder alone, offline,
 * and the same every time. The interface came with VS Code 1.95 (`lm.registerTool`); an older one has no tools.
 */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type ExplainParams, explainRequest, type ReportTextParams, reportTextRequest } from '#lsp/protocol';
import { findFiles } from './find-files';

interface Tools {
  registerTool<Input>(
    name: string,
    tool: { invoke(options: { readonly input: Input }, token: vscode.CancellationToken): Promise<unknown> },
  ): vscode.Disposable;
}

interface ResultTypes {
  readonly LanguageModelTextPart: new (text: string) => unknown;
  readonly LanguageModelToolResult: new (parts: readonly unknown[]) => unknown;
}

export function registerLanguageModelTools(client: BaseLanguageClient): vscode.Disposable[] {
  if (!hasTools()) return [];
  const { registerTool } = vscode.lm as unknown as Tools;
  const { LanguageModelTextPart, LanguageModelToolResult } = vscode as unknown as ResultTypes;
  const tool = <Input>(name: string, answer: (input: Input, token: vscode.CancellationToken) => Promise<string>) =>
    registerTool<Input>(`springwright_${name}`, {
      invoke: async ({ input }, token) =>
        new LanguageModelToolResult([new LanguageModelTextPart(await answer(input, token))]),
    });
  const report = (command: ReportTextParams['command']) =>
    tool<{ readonly file?: string }>(command, async ({ file }, token) => {
      const files = await filesNamed(file);
      if (files.length === 0) return `There is no file "${file ?? '*.spring'}" in the folders of this window.`;
      const params: ReportTextParams = { command, files };
      return client.sendRequest<string>(reportTextRequest, params, token);
    });
  return [
    report('check'),
    report('analyze'),
    tool<{ readonly finding: string }>('explain', async ({ finding }, token) => {
      const params: ExplainParams = { id: finding };
      return client.sendRequest<string>(explainRequest, params, token);
    }),
  ];
}

/** Before, the interface was a proposal: it was there, and threw. */
function hasTools(): boolean {
  const [major, minor] = vscode.version.split('.').map(Number);
  return (major > 1 || minor >= 95) && 'registerTool' in vscode.lm;
}

/** By its path in the folder, or the end of it; all files where none is named. */
async function filesNamed(name: string | undefined): Promise<ReportTextParams['files']> {
  const wanted = name?.replaceAll('\\', '/').replace(/^\.\//, '');
  const files = (await findFiles()).map((uri) => ({ uri: uri.toString(), path: vscode.workspace.asRelativePath(uri) }));
  const ordered = files.sort((a, b) => (a.path < b.path ? -1 : 1));
  const exact = ordered.filter(({ path, uri }) => path === wanted || uri === wanted);
  if (wanted === undefined || exact.length > 0) return wanted === undefined ? ordered : exact;
  return ordered.filter(({ uri }) => vscode.Uri.parse(uri).path === wanted || uri.endsWith(`/${wanted}`));
}
