/**
 * Commands that the documents show, run by a shell, block after block, in a fresh copy of the checkout that is built as a new user
 * would build it. Every line of every block is one that is run here, or one of a kind that says where else it is tried.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, realpathSync, rmSync, statSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { scripts: Record<string, string> };

const documents = ['README.md', 'DEVELOPERS.md', 'examples/tutorial.md', 'examples/pull-request/README.md'];

const lines = documents.flatMap((name) =>
  [...readFileSync(join(root, name), 'utf8').matchAll(/^```sh\n([\s\S]*?)^```/gm)].flatMap(([, block]) =>
    block.trimEnd().split('\n'),
  ),
);
const ours = lines.filter((line) => line.startsWith('node dist/springwright.cjs '));

/** What is tried elsewhere, and the scripts that build, start, test and pack, which package.json must have. */
const elsewhere: readonly RegExp[] = [
  // tests/host/start.test.ts, the tests themselves, tests/client/package.test.ts, and beforeAll here
  /^npm ci && npm (run )?(start|test|package|build)$/,
  // tests/e2e installs it in an editor
  /^code --install-extension springwright\.vsix$/,
  // tests/examples/pull-request.test.ts
  /^SPRINGWRIGHT=\S+ \S+\/review\.sh origin\/main review$/,
];

let checkout: string;

beforeAll(() => {
  checkout = join(realpathSync(mkdtempSync(join(tmpdir(), 'springwright-checkout-'))), 'springwright');
  const left = ['node_modules', 'dist', '.git', '.work', 'tests/output', 'tsconfig.tsbuildinfo'];
  cpSync(root, checkout, { recursive: true, filter: (path) => !left.includes(relative(root, path)) });
  // What `npm ci` would put there, without the network.
  symlinkSync(realpathSync(join(root, 'node_modules')), join(checkout, 'node_modules'));
  execFileSync('npm', ['run', '--silent', 'build'], { cwd: checkout, stdio: 'pipe' });
  const who = ['-c', 'user.name=Somebody', '-c', 'user.email=somebody@example.invalid', '-c', 'commit.gpgsign=false'];
  for (const args of [
    ['init', '--quiet'],
    ['add', 'examples'],
    ['commit', '--quiet', '--message', 'examples'],
  ]) {
    execFileSync('git', [...who, ...args], { cwd: checkout, stdio: 'pipe' });
  }
}, 180_000);

afterAll(() => rmSync(join(checkout, '..'), { recursive: true, force: true }));

describe('commands in the documents', () => {
  it('are all run here, or known to be tried elsewhere', () => {
    expect(ours.length).toBeGreaterThan(15);
    const unknown = lines.filter((line) => !ours.includes(line) && !elsewhere.some((kind) => kind.test(line)));
    expect(unknown).toEqual([]);
  });

  it('name scripts that package.json has', () => {
    const text = documents.map((name) => readFileSync(join(root, name), 'utf8')).join('\n');
    const named = [...text.matchAll(/\bnpm (?:run (?:-s )?([a-z:-]+)|(start|test))\b/g)].map(
      ([, run, own]) => run ?? own,
    );
    expect(named.length).toBeGreaterThan(5);
    expect(named.filter((name) => !(name in scripts))).toEqual([]);
  });

  it.each(ours)(
    '%s',
    (line) => {
      const { status, stdout, stderr } = spawnSync('sh', ['-c', line], {
        cwd: checkout,
        encoding: 'utf8',
        maxBuffer: 1e8,
      });
      // Some of the examples show errors: the whole folder of them cannot be without.
      const code = / (check|analyze) (?!--since).*examples$/.test(line) ? 1 : 0;
      expect([stderr, status]).toEqual(['', code]);
      expect(stdout).not.toContain(checkout);
      expect(stdout).not.toContain('\u001b');
      const written = / -o (\S+)$/.exec(line)?.[1];
      if (written !== undefined) expect(statSync(join(checkout, written)).size).toBeGreaterThan(1000);
      if (line.includes('--workflow'))
        expect(existsSync(join(checkout, '.github/workflows/springwright.yml'))).toBe(true);
    },
    120_000,
  );
});
