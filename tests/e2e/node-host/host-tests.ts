/** Runs inside the Node extension host, beside the installed extension: what other extensions get from it. */
import { spawnSync } from 'node:child_process';
import * as vscode from 'vscode';

/** Called by the host; what it throws is its exit code. */
export async function run(): Promise<void> {
  const folder = vscode.workspace.workspaceFolders![0].uri;
  const file = vscode.Uri.joinPath(folder, 'spring.spring');
  const document = await vscode.workspace.openTextDocument(file);
  await vscode.window.showTextDocument(document);

  await test('hints and findings of the installed extension', async () => {
    equal(document.languageId, 'springwright');
    const all = new vscode.Range(0, 0, document.lineCount, 0);
    const hints = await until(
      () => vscode.commands.executeCommand<vscode.InlayHint[]>('vscode.executeInlayHintProvider', file, all),
      (found) => (found?.length ?? 0) > 10,
    );
    const labels = hints.map(({ label }) => (typeof label === 'string' ? label : label.map((p) => p.value).join('')));
    ok(
      labels.some((label) => /✗.*gf/.test(label)),
      `a missed requirement among ${labels}`,
    );
    const found = await until(
      async () => vscode.languages.getDiagnostics(file),
      (all) => all.some(({ code }) => code === 'requirement-missed'),
    );
    ok(
      found.every(({ source }) => source === 'springwright'),
      'findings of the language server',
    );
  });

  await test('tools for language models say what the command line says, every time the same', async () => {
    const ask = async (name: string, input: object): Promise<string> => {
      const { lm } = vscode as unknown as {
        lm: {
          tools: readonly { name: string }[];
          invokeTool(name: string, options: object): Promise<{ content: { value: string }[] }>;
        };
      };
      ok(
        lm.tools.some((one) => one.name === name),
        `${name} among ${lm.tools.map((one) => one.name)}`,
      );
      const { content } = await lm.invokeTool(name, { input, toolInvocationToken: undefined });
      return content.map(({ value }) => value).join('');
    };
    const check = await ask('springwright_check', { file: 'spring.spring' });
    ok(/missed\s+at 1\.5 mm\s+canine\.force\.distal/.test(check), check);
    equal(await ask('springwright_check', { file: 'spring.spring' }), check);
    const analyze = await ask('springwright_analyze', {});
    ok(/canine/.test(analyze) && /gf mm/.test(analyze), analyze);
    ok(/yield/.test(await ask('springwright_explain', { finding: 'stress-past-yield' })), 'an explanation');
    ok(/There is no finding/.test(await ask('springwright_explain', { finding: 'nothing' })), 'a list of findings');
  });

  await test('the task checks the folder with the command line that is installed along', async () => {
    const tasks = await vscode.tasks.fetchTasks({ type: 'springwright' });
    equal(tasks.length, 1);
    equal(tasks[0].problemMatchers.join(), '$springwright');
    // This host has no terminals: the task's command is run as it stands.
    const { process: program, args, options } = tasks[0].execution as vscode.ProcessExecution;
    const env = { ...process.env, ...options?.env };
    const { status, stdout } = spawnSync(program, args, { cwd: options?.cwd, env, encoding: 'utf8' });
    equal(status, 1);
    ok(/^closed\.spring:\d+:\d+: error: .* \[unit-mismatch\]$/m.test(stdout), stdout);
  });

  console.log(`${passed} passed, ${failures.length} failed`);
  if (failures.length > 0) throw new Error(failures.join('\n'));
}

let passed = 0;
const failures: string[] = [];

async function test(name: string, body: () => Promise<void>): Promise<void> {
  try {
    await body();
    passed += 1;
    console.log(`ok ${name}`);
  } catch (error) {
    failures.push(`${name}: ${error instanceof Error ? error.message : error}`);
    console.error(`not ok ${failures.at(-1)}`);
  }
}

async function until<T>(read: () => Thenable<T>, condition: (value: T) => boolean): Promise<T> {
  const end = Date.now() + 60_000;
  for (;;) {
    const value = await read();
    if (condition(value)) return value;
    if (Date.now() > end) throw new Error(`waited in vain; there was ${JSON.stringify(value)?.slice(0, 500)}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

function ok(holds: boolean, what: string): void {
  if (!holds) throw new Error(`expected ${what}`);
}

function equal<T>(actual: T, expected: T): void {
  if (actual !== expected) throw new Error(`${actual} is not ${expected}`);
}
