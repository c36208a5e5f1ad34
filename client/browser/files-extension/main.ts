/** A web extension that gives the editor the served folder. It runs in the browser and asks the server that sent it. */
import * as vscode from 'vscode';

export function activate(context: vscode.ExtensionContext): void {
  // The server hands out this extension below its token: .../files-extension/TOKEN/
  const { scheme, authority, path } = context.extensionUri;
  const token = path.split('/').filter((segment) => segment !== '')[1];
  const provider = createProvider(`${scheme}://${authority}/files/`, token);
  context.subscriptions.push(
    vscode.workspace.registerFileSystemProvider('springwright-folder', provider, { isCaseSensitive: true }),
  );
}

type Kind = 'file' | 'folder';
type Operation = 'stat' | 'list' | 'read' | 'write' | 'make-folder' | 'remove' | 'rename';
type Parameters = Readonly<Record<string, string | boolean>>;

function createProvider(address: string, token: string): vscode.FileSystemProvider {
  const changes = new vscode.EventEmitter<vscode.FileChangeEvent[]>();
  const report = (type: vscode.FileChangeType, uri: vscode.Uri) => changes.fire([{ type, uri }]);

  async function ask(operation: Operation, uri: vscode.Uri, parameters: Parameters = {}, body?: Uint8Array) {
    const query = new URLSearchParams({ path: withinFolder(uri) });
    for (const [name, value] of Object.entries(parameters)) query.set(name, String(value));
    const response = await fetch(`${address}${operation}?${query}`, {
      method: 'POST',
      headers: { 'x-springwright-token': token },
      body: body as BodyInit | undefined,
    }).catch(() => {
      throw vscode.FileSystemError.Unavailable('The Springwright server has stopped: run "npm start" again.');
    });
    if (!response.ok) throw await failureOf(response, uri);
    return response;
  }

  return {
    onDidChangeFile: changes.event,
    watch: () => new vscode.Disposable(() => {}),
    async stat(uri) {
      const facts: { type: Kind; size: number; created: number; modified: number } = await (
        await ask('stat', uri)
      ).json();
      return { type: kindOf(facts.type), size: facts.size, ctime: facts.created, mtime: facts.modified };
    },
    async readDirectory(uri) {
      const entries: [string, Kind][] = await (await ask('list', uri)).json();
      return entries.map(([name, kind]) => [name, kindOf(kind)]);
    },
    async readFile(uri) {
      return new Uint8Array(await (await ask('read', uri)).arrayBuffer());
    },
    async writeFile(uri, content, { create, overwrite }) {
      const existed = await ask('stat', uri).then(
        () => true,
        () => false,
      );
      await ask('write', uri, { create, overwrite }, content);
      report(existed ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created, uri);
    },
    async createDirectory(uri) {
      await ask('make-folder', uri);
      report(vscode.FileChangeType.Created, uri);
    },
    async delete(uri, { recursive }) {
      await ask('remove', uri, { recursive });
      report(vscode.FileChangeType.Deleted, uri);
    },
    async rename(from, to, { overwrite }) {
      await ask('rename', from, { to: withinFolder(to), overwrite });
      report(vscode.FileChangeType.Deleted, from);
      report(vscode.FileChangeType.Created, to);
    },
  };
}

/** What the server refused, as the editor's own kinds of error. */
async function failureOf(response: Response, uri: vscode.Uri): Promise<vscode.FileSystemError> {
  const { code, message }: { code?: string; message?: string } = await response.json().catch(() => ({}));
  switch (code) {
    case 'FileNotFound':
      return vscode.FileSystemError.FileNotFound(uri);
    case 'FileExists':
      return vscode.FileSystemError.FileExists(uri);
    case 'FileNotADirectory':
      return vscode.FileSystemError.FileNotADirectory(uri);
    case 'FileIsADirectory':
      return vscode.FileSystemError.FileIsADirectory(uri);
    case 'NoPermissions':
      return vscode.FileSystemError.NoPermissions(message);
    default:
      return vscode.FileSystemError.Unavailable(
        'The Springwright server has been started anew: open the address that it printed.',
      );
  }
}

const kindOf = (kind: Kind): vscode.FileType => (kind === 'folder' ? vscode.FileType.Directory : vscode.FileType.File);

/** The first segment of a path is the folder's own name, for the editor to show. */
const withinFolder = (uri: vscode.Uri): string => `/${uri.path.split('/').slice(2).join('/')}`;
