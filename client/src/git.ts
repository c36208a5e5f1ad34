/**
 * Revisions of files through the editor's own git extension, where there is one: not in a browser. What is used of its public
 * interface (`git.d.ts` of vscode's extensions/git, version 1).
 */
import * as vscode from 'vscode';

export interface Commit {
  readonly hash: string;
  readonly message: string;
  readonly authorDate?: Date;
}

interface Repository {
  readonly state: { readonly HEAD: { readonly name?: string } | undefined };
  getCommit(ref: string): Promise<Commit>;
  log(options: { readonly maxEntries: number; readonly path: string }): Promise<Commit[]>;
  show(ref: string, path: string): Promise<string>;
}

interface GitApi {
  readonly state: 'uninitialized' | 'initialized';
  readonly onDidChangeState: vscode.Event<unknown>;
  getRepository(uri: vscode.Uri): Repository | null;
}

/** Of the repository that holds the file, or in one line why there is none. */
export async function repositoryOf(uri: vscode.Uri): Promise<Repository | { readonly mistake: string }> {
  const extension = vscode.extensions.getExtension<{ readonly enabled: boolean; getAPI(version: 1): GitApi }>(
    'vscode.git',
  );
  if (!extension) {
    return {
      mistake: vscode.l10n.t(
        'This editor has no git extension, as in a browser: there are no revisions to compare with.',
      ),
    };
  }
  const git = extension.isActive ? extension.exports : await extension.activate();
  if (!git.enabled) {
    return {
      mistake: vscode.l10n.t('Git is switched off or not installed here: there are no revisions to compare with.'),
    };
  }
  const api = git.getAPI(1);
  await initialized(api);
  const none = vscode.l10n.t('This file is not in a git repository: there are no revisions of it.');
  return api.getRepository(uri) ?? { mistake: none };
}

/** The file as the commit has it; rejects where it has none. */
export async function readRevision(uri: vscode.Uri, revision: string): Promise<string> {
  const repository = await repositoryOf(uri);
  if ('mistake' in repository) throw new Error(repository.mistake);
  return repository.show(revision, uri.fsPath);
}

/** It looks for repositories as it starts. */
async function initialized(api: GitApi): Promise<void> {
  if (api.state === 'initialized') return;
  await new Promise<void>((resolve) => {
    const waiting = api.onDidChangeState(() => {
      waiting.dispose();
      resolve();
    });
  });
}
