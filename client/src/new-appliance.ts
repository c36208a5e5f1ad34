/** *New Appliance*: an untitled file with a first appliance to try things out with, the one that the command line starts a folder with. */
import * as vscode from 'vscode';
import content from '../../server/src/cli/first-appliance.spring';

export function registerNewAppliance(): vscode.Disposable {
  return vscode.commands.registerCommand('springwright.newAppliance', async () => {
    const document = await vscode.workspace.openTextDocument({ language: 'springwright', content });
    await vscode.window.showTextDocument(document);
  });
}
