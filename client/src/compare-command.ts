/** *Compare…*: a file with another one, or with an earlier revision of itself. */
import * as vscode from 'vscode';
import type { CompareParams } from '#lsp/protocol';
import type { ComparePanels } from './compare-panel';
import { findFiles } from './find-files';
import { type Commit, repositoryOf } from './git';

/** From a menu: a file; two files selected together; or a change listed by source control. */
type Subject = vscode.Uri | { readonly resourceUri: vscode.Uri } | undefined;

export function registerCompare(panels: ComparePanels): vscode.Disposable {
  return vscode.commands.registerCommand('springwright.compare', async (subject?: Subject, selected?: unknown) => {
    const pair = designsIn(selected);
    if (pair.length === 2) {
      panels.open(ofFiles(pair[0], pair[1]));
      return;
    }
    const uri = subject instanceof vscode.Uri ? subject : (subject?.resourceUri ?? activeDesign());
    if (!uri) {
      void vscode.window.showInformationMessage(
        vscode.l10n.t('Open a .spring file first: the file in the editor is compared.'),
      );
      return;
    }
    const params = await choose(uri);
    if (params) panels.open(params);
  });
}

interface Choice extends vscode.QuickPickItem {
  readonly params?: () => Promise<CompareParams | undefined>;
}

/** The earlier side: a commit that changed the file, or another file. */
async function choose(uri: vscode.Uri): Promise<CompareParams | undefined> {
  const chosen = await vscode.window.showQuickPick<Choice>(choices(uri), {
    title: vscode.l10n.t('Compare {0} with', shortName(uri)),
    matchOnDescription: true,
  });
  return chosen?.params?.();
}

async function choices(uri: vscode.Uri): Promise<Choice[]> {
  const separator = (label: string): Choice => ({ label, kind: vscode.QuickPickItemKind.Separator });
  const [revisions, files] = await Promise.all([revisionChoices(uri), fileChoices(uri)]);
  return [
    separator(vscode.l10n.t('Revisions of this file')),
    ...revisions,
    ...(files.length > 0 ? [separator(vscode.l10n.t('Other files'))] : []),
    ...files,
  ];
}

async function revisionChoices(uri: vscode.Uri): Promise<Choice[]> {
  const repository = await repositoryOf(uri);
  if ('mistake' in repository)
    return [{ label: `$(info) ${vscode.l10n.t('No revisions here')}`, detail: repository.mistake }];
  const commits = await repository.log({ maxEntries: mostCommits, path: uri.fsPath }).catch(() => []);
  const with_ = (commit: Commit, name: string): CompareParams => ({
    before: { uri: uri.toString(), revision: commit.hash, name },
    after: { uri: uri.toString(), name: shortName(uri) },
  });
  const head = await repository.getCommit('HEAD').catch(() => undefined);
  const last: Choice[] = head
    ? [
        {
          label: `$(git-commit) ${vscode.l10n.t('Last Commit')}`,
          description: subjectOf(head),
          params: async () => with_(head, vscode.l10n.t('{0} at the last commit', shortName(uri))),
        },
      ]
    : [];
  const named: Choice = {
    label: `$(git-branch) ${vscode.l10n.t('Branch, Tag or Commit…')}`,
    params: async () => {
      const prompt = vscode.l10n.t('A branch, a tag or a commit, such as HEAD~1');
      const name = await vscode.window.showInputBox({ prompt, validateInput: (text) => unknownTo(repository, text) });
      if (!name) return undefined;
      return with_(await repository.getCommit(name), vscode.l10n.t('{0} at {1}', shortName(uri), name));
    },
  };
  return [
    ...last,
    ...commits.map(
      (commit): Choice => ({
        label: `$(git-commit) ${subjectOf(commit)}`,
        description: commit.hash.slice(0, 8),
        detail: commit.authorDate?.toLocaleString(),
        params: async () => with_(commit, vscode.l10n.t('{0} at {1}', shortName(uri), commit.hash.slice(0, 8))),
      }),
    ),
    named,
  ];
}

const mostCommits = 30;

async function unknownTo(
  repository: { getCommit(ref: string): Promise<Commit> },
  name: string,
): Promise<string | undefined> {
  if (name === '') return undefined;
  return repository.getCommit(name).then(
    () => undefined,
    () => vscode.l10n.t('This repository has no revision "{0}".', name),
  );
}

async function fileChoices(uri: vscode.Uri): Promise<Choice[]> {
  const others = (await findFiles()).filter((other) => other.toString() !== uri.toString());
  return others.map((other) => ({
    label: `$(file) ${vscode.workspace.asRelativePath(other)}`,
    params: async () => ofFiles(other, uri),
  }));
}

function ofFiles(before: vscode.Uri, after: vscode.Uri): CompareParams {
  // Files of one name are told apart by their folders.
  const name =
    shortName(before) === shortName(after) ? (uri: vscode.Uri) => vscode.workspace.asRelativePath(uri) : shortName;
  return {
    before: { uri: before.toString(), name: name(before) },
    after: { uri: after.toString(), name: name(after) },
  };
}

function designsIn(selected: unknown): vscode.Uri[] {
  if (!Array.isArray(selected)) return [];
  return selected.filter((one): one is vscode.Uri => one instanceof vscode.Uri && one.path.endsWith('.spring'));
}

function activeDesign(): vscode.Uri | undefined {
  const document = vscode.window.activeTextEditor?.document;
  return document?.languageId === 'springwright' ? document.uri : undefined;
}

const shortName = (uri: vscode.Uri): string => uri.path.slice(uri.path.lastIndexOf('/') + 1);

const subjectOf = ({ message }: Commit): string => message.split('\n')[0];
