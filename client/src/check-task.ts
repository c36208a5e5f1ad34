/** A task that checks every file of a folder with the command line that lies beside the extension: on a desktop or a remote machine. */
import * as vscode from 'vscode';

interface CheckTask extends vscode.TaskDefinition {
  /** Files, folders and patterns, below the folder; all of it where absent. */
  readonly paths?: readonly string[];
}

const type = 'springwright';

export function registerCheckTask(extensionUri: vscode.Uri): vscode.Disposable {
  const program = vscode.Uri.joinPath(extensionUri, 'dist', 'springwright.cjs').fsPath;

  const taskOf = (definition: CheckTask, folder: vscode.WorkspaceFolder): vscode.Task => {
    const paths = definition.paths && definition.paths.length > 0 ? definition.paths : ['.'];
    const execution = new vscode.ProcessExecution(process.execPath, [program, 'check', ...paths], {
      cwd: folder.uri.fsPath,
      // The editor's own program, as plain Node.
      env: { ELECTRON_RUN_AS_NODE: '1' },
    });
    const name = definition.paths ? vscode.l10n.t('check {0}', paths.join(' ')) : vscode.l10n.t('check all files');
    const task = new vscode.Task(definition, folder, name, 'Springwright', execution, '$springwright');
    task.group = vscode.TaskGroup.Test;
    return task;
  };

  return vscode.tasks.registerTaskProvider(type, {
    provideTasks: () =>
      (vscode.workspace.workspaceFolders ?? [])
        .filter(({ uri }) => uri.scheme === 'file')
        .map((folder) => taskOf({ type }, folder)),
    resolveTask: ({ definition, scope }) => {
      const folder = typeof scope === 'object' ? scope : vscode.workspace.workspaceFolders?.[0];
      return folder ? taskOf(definition as CheckTask, folder) : undefined;
    },
  });
}
