/** What both runtimes do alike: the client's options, and everything that is registered once there is a client. */
import * as vscode from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { registerCompare } from './compare-command';
import { registerComparePanels } from './compare-panel';
import { registerExport } from './export-command';
import { answerFindFiles } from './find-files';
import { registerLanguageModelTools } from './language-model-tools';
import { registerLanguageStatus } from './language-status';
import { registerLibraryDocuments } from './library-documents';
import { registerNewAppliance } from './new-appliance';
import { registerPreview } from './preview-panel';
import { answerReadFile } from './read-file';
import { registerRequirementTests } from './requirement-tests';
import { listenForResults } from './results-changed';

export const clientId = 'springwright';
export const clientName = 'Springwright';
export const languageId = 'springwright';

export function clientOptions(): LanguageClientOptions {
  return {
    // Of any scheme: local, remote, virtual, never saved, and the bundled library.
    documentSelector: [{ language: languageId }],
    synchronize: {
      configurationSection: 'springwright',
      fileEvents: vscode.workspace.createFileSystemWatcher('**/*.spring'),
    },
  };
}

export async function activateWith(context: vscode.ExtensionContext, client: BaseLanguageClient): Promise<void> {
  const results = listenForResults(client);
  const comparisons = registerComparePanels(context.extensionUri, client, results.onDidChangeResults);
  context.subscriptions.push(
    results,
    comparisons,
    registerCompare(comparisons),
    answerReadFile(client),
    answerFindFiles(client),
    registerExport(context.extensionUri, client),
    registerLibraryDocuments(),
    registerNewAppliance(),
    ...registerLanguageStatus(client, results.onDidChangeResults),
    ...registerLanguageModelTools(client),
    ...registerPreview(context.extensionUri),
    ...registerRequirementTests(client, results.onDidChangeResults),
  );
  await client.start();
}
