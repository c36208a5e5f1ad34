/** A server on a throw-away folder, and requests whose headers can be set at will (fetch does not let Host be set). */
import { mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises';
import { type IncomingHttpHeaders, request } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { startServer } from '../../client/browser/server.mjs';

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: Buffer;
  readonly text: string;
}

export interface ServedFolder {
  /** Holds `folder`, `outside` and `project`. */
  readonly base: string;
  readonly folder: string;
  readonly port: number;
  readonly token: string;
  readonly address: string;
  send(target: string, options?: SendOptions): Promise<Answer>;
  /** A file request as our own page sends it. */
  file(operation: string, parameters: Record<string, string>, body?: string): Promise<Answer>;
  close(): Promise<void>;
}

export interface SendOptions {
  readonly method?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
}

export async function serveFolder(firstPort = 0): Promise<ServedFolder> {
  const base = await realpath(await mkdtemp(path.join(tmpdir(), 'springwright-host-')));
  const project = await makeProject(base);
  const folder = path.join(base, 'folder');
  await mkdir(path.join(folder, 'parts'), { recursive: true });
  await mkdir(path.join(base, 'outside'));
  await writeFile(path.join(folder, 'loop.spring'), 'inside');
  await writeFile(path.join(folder, 'parts', 'loops.spring'), 'part');
  await writeFile(path.join(base, 'outside', 'secret.txt'), 'secret');
  const server = await startServer({ root: project, folder, port: firstPort });
  const origin = `http://127.0.0.1:${server.port}`;

  const send = (target: string, { method = 'GET', headers = {}, body }: SendOptions = {}): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const sent = request(
        { host: '127.0.0.1', port: server.port, path: target, method, headers: { host: origin.slice(7), ...headers } },
        (response) => {
          const chunks: Buffer[] = [];
          response.on('data', (chunk: Buffer) => chunks.push(chunk));
          response.on('error', reject);
          response.on('end', () => {
            const whole = Buffer.concat(chunks);
            resolve({
              status: response.statusCode ?? 0,
              headers: response.headers,
              body: whole,
              text: whole.toString('utf8'),
            });
          });
        },
      );
      sent.on('error', reject);
      sent.end(body);
    });

  return {
    base,
    folder,
    port: server.port,
    token: server.token,
    address: server.address,
    send,
    file: (operation, parameters, body) =>
      send(`/files/${operation}?${new URLSearchParams(parameters)}`, {
        method: 'POST',
        headers: { origin, 'x-springwright-token': server.token },
        body,
      }),
    async close() {
      await server.close();
      await rm(base, { recursive: true, force: true });
    },
  };
}

/** A project as far as the server serves it. */
async function makeProject(base: string): Promise<string> {
  const project = path.join(base, 'project');
  await mkdir(path.join(project, 'dist'), { recursive: true });
  await mkdir(path.join(project, 'grammar'));
  await writeFile(path.join(project, 'package.json'), '{"name":"springwright"}');
  await writeFile(path.join(project, 'private.txt'), 'private');
  for (const name of ['extension.web.js', 'server.worker.js', 'preview.js', 'files-extension.js']) {
    await writeFile(path.join(project, 'dist', name), `// ${name}`);
  }
  return project;
}
