/**
 * The recipe for pull requests, run as it stands in `examples/pull-request`: a repository, a clone of it with a branch, and an
 * answering machine in place of GitHub. What it gives stands recorded there: `UPDATE=1 npx vitest run tests/examples/pull-request`.
 */
import { execFile, execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { harmlessMarkdown } from '../../examples/pull-request/comment/harmless-markdown.mjs';
import { buildCommand, type Command } from '../cli/command';

// A process for each command: many in one test.
vi.setConfig({ testTimeout: 120_000 });

const recipe = resolve(import.meta.dirname, '../../examples/pull-request');
const read = (...path: string[]) => readFileSync(join(...path), 'utf8');

let command: Command;
let folder: string;

beforeAll(async () => {
  command = await buildCommand();
  folder = mkdtempSync(join(tmpdir(), 'springwright-pull-request-'));
});

afterAll(() => {
  command.remove();
  rmSync(folder, { recursive: true });
});

function git(cwd: string, ...args: string[]): string {
  const who = ['-c', 'user.name=Somebody', '-c', 'user.email=somebody@example.invalid', '-c', 'commit.gpgsign=false'];
  return execFileSync('git', [...who, ...args], { cwd, stdio: 'pipe', encoding: 'utf8' }).trim();
}

/** A repository that goes on after the branch left it, and a clone of it with the branch; yields the clone. */
function clonedWith(change: string): string {
  const origin = join(folder, change, 'origin');
  mkdirSync(origin, { recursive: true });
  git(origin, 'init', '--quiet', '--initial-branch', 'main');
  cpSync(join(recipe, 'before'), join(origin, 'arms'), { recursive: true });
  const other = read(recipe, 'before/tip-back-arm.spring').replaceAll('tip_back_arm', 'other_arm');
  writeFileSync(join(origin, 'arms/other.spring'), other);
  git(origin, 'add', '--all');
  git(origin, 'commit', '--quiet', '--message', 'two arms');
  git(join(folder, change), 'clone', '--quiet', origin, 'clone');
  const clone = join(folder, change, 'clone');
  git(clone, 'checkout', '--quiet', '-b', 'change');
  if (change !== 'nothing') {
    cpSync(join(recipe, change, 'tip-back-arm.spring'), join(clone, 'arms/tip-back-arm.spring'));
    git(clone, 'commit', '--quiet', '--all', '--message', 'another arm');
  }
  // What came to the target meanwhile is no change of the branch.
  writeFileSync(join(origin, 'arms/other.spring'), other.replace('12 deg', '13 deg'));
  git(origin, 'commit', '--quiet', '--all', '--message', 'a little more');
  git(clone, 'fetch', '--quiet', 'origin');
  return clone;
}

const environment = () => ({ ...process.env, SPRINGWRIGHT: command.program });

function review(clone: string, ...args: string[]) {
  const options = { cwd: clone, encoding: 'utf8', env: environment() } as const;
  const { status, stdout, stderr } = spawnSync('sh', [join(recipe, 'review.sh'), ...args], options);
  return { code: status, out: stdout, err: stderr };
}

describe('review.sh', () => {
  it.each([
    ['failing', 1],
    ['passing', 0],
  ])('writes what stands recorded of the %s change, of the changed appliance alone', (change, code) => {
    const clone = clonedWith(change);
    expect(review(clone, 'origin/main', 'review')).toEqual({ code, out: '', err: '' });
    const written = join(clone, 'review');
    expect(readdirSync(written).sort()).toEqual(['annotations.txt', 'comment.md', 'comparison.md', 'comparison.svg']);
    if (process.env.UPDATE === '1') {
      for (const name of ['annotations.txt', 'comment.md', 'comparison.svg']) {
        cpSync(join(written, name), join(recipe, change, name));
      }
    }
    for (const name of ['annotations.txt', 'comment.md']) {
      expect(read(written, name)).toBe(read(recipe, change, name));
      expect(read(written, name)).not.toContain('other');
      expect(read(written, name)).not.toContain(folder);
    }
    expect(read(written, 'comparison.md')).toMatch(/^!\[Before and after, to scale\]\(<comparison\.svg>\)\n/);
    for (const svg of [read(written, 'comparison.svg'), read(recipe, change, 'comparison.svg')]) {
      expect(svg).toContain('>tip_back_arm: after<');
    }
    expect(read(written, 'annotations.txt') === '').toBe(code === 0);
  });

  it('leaves nothing of an earlier run, and is content where nothing changes', () => {
    const clone = clonedWith('nothing');
    mkdirSync(join(clone, 'review'));
    writeFileSync(join(clone, 'review/comparison.svg'), 'of yesterday');
    expect(review(clone, 'origin/main', 'review', 'arms')).toEqual({ code: 0, out: '', err: '' });
    expect(readdirSync(join(clone, 'review')).sort()).toEqual(['annotations.txt', 'comment.md', 'comparison.md']);
    expect(read(clone, 'review/comment.md')).toContain('No number changes.');
  });

  it('says in one line what is wrong', () => {
    const clone = join(folder, 'nothing/clone');
    expect(review(clone)).toEqual({ code: 2, out: '', err: 'review.sh TARGET OUTPUT [FOLDER]\n' });
    const unknown = review(clone, 'nonsense', 'review');
    expect([unknown.code, unknown.out]).toEqual([2, '']);
    expect(unknown.err).toMatch(/nonsense and this branch have no commit in common here: fetch the whole history/);
    expect(review(clone, 'origin/main', 'review', 'nowhere')).toEqual({
      code: 2,
      out: '',
      err: 'No such file or folder: nowhere.\n',
    });
  });

  it('tells as an action what a workflow shows, and keeps the exit code for its last step', () => {
    const clone = join(folder, 'failing/clone');
    const runner = join(folder, 'runner');
    mkdirSync(runner);
    const env = {
      ...environment(),
      RUNNER_TEMP: runner,
      GITHUB_STEP_SUMMARY: join(runner, 'summary'),
      GITHUB_OUTPUT: join(runner, 'output'),
      TARGET: 'origin/main',
      FOLDER: '.',
      FAIL_ON: 'error',
    };
    const { status, stdout } = spawnSync('sh', [join(recipe, 'action.sh')], { cwd: clone, encoding: 'utf8', env });
    expect(status).toBe(0);
    expect(stdout).toMatch(/^::error file=arms\/tip-back-arm\.spring,line=\d+,/);
    expect(read(runner, 'output')).toBe('code=1\n');
    expect(read(runner, 'summary')).toBe(read(recipe, 'failing/comment.md'));
  });
});

describe('the comment', () => {
  /** What GitHub would keep, and what was asked of it. */
  let comments: { id: number; user: { login: string }; body: string }[];
  let asked: string[];
  let pulls: object[];
  let server: Server;
  const commit = '0123456789abcdef0123456789abcdef01234567';
  const run = {
    head_sha: commit,
    head_branch: 'a & b',
    head_repository: { id: 7, owner: { login: 'forker' } },
    html_url: 'https://github.example/springs/arms/actions/runs/5',
    conclusion: 'failure',
  };

  beforeEach(async () => {
    comments = [];
    asked = [];
    pulls = [
      { number: 3, head: { sha: 'another', repo: { id: 7 } } },
      { number: 4, head: { sha: commit, repo: { id: 7 } } },
    ];
    server = createServer(async (request, response) => {
      const { pathname, searchParams } = new URL(request.url!, 'http://localhost');
      let sent = '';
      for await (const piece of request) sent += piece;
      asked.push(`${request.method} ${pathname}`);
      const answer = (value: unknown, status = 200) => {
        response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(value));
      };
      if (request.headers.authorization !== 'Bearer secret') return answer({}, 401);
      if (pathname === '/repos/springs/arms/pulls') {
        expect(Object.fromEntries(searchParams)).toEqual({ state: 'open', head: 'forker:a & b' });
        return answer(pulls);
      }
      if (pathname === '/repos/springs/arms/issues/4/comments') {
        if (request.method === 'GET') {
          const start = (Number(searchParams.get('page')) - 1) * 100;
          return answer(comments.slice(start, start + 100));
        }
        comments.push({ id: comments.length, user: { login: 'github-actions[bot]' }, body: JSON.parse(sent).body });
        return answer({}, 201);
      }
      const [, id] = /^\/repos\/springs\/arms\/issues\/comments\/(\d+)$/.exec(pathname) ?? [];
      if (id === undefined || request.method !== 'PATCH') return answer({}, 404);
      comments[Number(id)].body = JSON.parse(sent).body;
      return answer({});
    });
    await new Promise<void>((settle) => server.listen(0, '127.0.0.1', settle));
    rmSync(join(folder, 'artifact'), { recursive: true, force: true });
    mkdirSync(join(folder, 'artifact'));
    cpSync(join(recipe, 'failing/comment.md'), join(folder, 'artifact/comment.md'));
  });

  afterEach(() => new Promise((settle) => server.close(settle)));

  const post = (event: object = run, token = 'secret') => {
    writeFileSync(join(folder, 'event.json'), JSON.stringify({ workflow_run: event }));
    const env = {
      ...process.env,
      GITHUB_API_URL: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
      GITHUB_REPOSITORY: 'springs/arms',
      GITHUB_TOKEN: token,
      GITHUB_EVENT_PATH: join(folder, 'event.json'),
    };
    const script = join(recipe, 'comment/post-comment.mjs');
    return new Promise<{ code: number; out: string; err: string }>((settle) => {
      execFile(process.execPath, [script, join(folder, 'artifact')], { env }, (error, out, err) => {
        settle({ code: error === null ? 0 : Number(error.code), out, err });
      });
    });
  };

  it('is one, found again by its marker, and kept up to date', async () => {
    for (let k = 0; k < 120; k++) comments.push({ id: k, user: { login: 'somebody' }, body: 'Nice.' });
    expect(await post()).toEqual({ code: 0, out: 'Commented on pull request 4.\n', err: '' });
    expect(comments).toHaveLength(121);
    expect(comments[120].body).toMatch(
      /^<!-- springwright review -->\n\n## Springwright: something is not as required \(0123456\)\n\n.*\(https:\/\/github\.example\/springs\/arms\/actions\/runs\/5\)/,
    );
    expect(comments[120].body).toContain(
      '### tip_back_arm, arms/tip-back-arm.spring: 4 requirements are not met any more',
    );
    cpSync(join(recipe, 'passing/comment.md'), join(folder, 'artifact/comment.md'));
    expect((await post({ ...run, conclusion: 'success' })).out).toBe('Renewed the comment on pull request 4.\n');
    expect(comments).toHaveLength(121);
    expect(comments[120].body).toContain('## Springwright: requirements are met (0123456)');
    expect(comments[120].body).not.toContain('missed');
  });

  it("is never somebody else's with the same marker", async () => {
    comments.push({ id: 0, user: { login: 'somebody' }, body: '<!-- springwright review -->\n\nNot mine.' });
    await post();
    expect(comments).toHaveLength(2);
    expect(comments[0].body).toContain('Not mine.');
  });

  it('goes to no pull request that has moved on, or that is of another repository', async () => {
    for (const none of [
      [],
      [{ number: 4, head: { sha: commit, repo: { id: 8 } } }],
      [{ number: 4, head: { sha: commit, repo: null } }],
    ]) {
      pulls = none;
      expect((await post()).out).toMatch(/^No open pull request is at the commit that was reviewed/);
    }
    expect(asked.filter((one) => !one.startsWith('GET'))).toEqual([]);
  });

  it('says so where the artifact holds no result, a link, or something else than text', async () => {
    const file = join(folder, 'artifact/comment.md');
    rmSync(file);
    await post();
    expect(comments[0].body).toContain('The review did not get as far as a result');
    symlinkSync(join(folder, 'event.json'), file);
    await post();
    expect(comments[0].body).toContain('is no text of a usual size');
    rmSync(file);
    writeFileSync(file, Buffer.alloc(2 * 1024 * 1024, 'x'));
    await post();
    expect(comments[0].body).toContain('is no text of a usual size');
    writeFileSync(file, new Uint8Array([0xff, 0xfe, 0x00]));
    await post();
    expect(comments[0].body).toContain('is no text.');
    expect(comments).toHaveLength(1);
  });

  it('fails in one line where GitHub refuses', async () => {
    expect(await post(run, 'wrong')).toEqual({ code: 1, out: '', err: 'GET /pulls: GitHub answers 401.\n' });
  });
});

describe('text from a branch', () => {
  const harmless = (text: string) => harmlessMarkdown(Buffer.from(text))!;

  it('keeps what our reports say, letter by letter as it is seen', () => {
    for (const change of ['failing', 'passing']) {
      const text = read(recipe, change, 'comment.md');
      const seen = harmless(text).replaceAll('\u200b', '');
      expect(seen).toBe(text.replace(/^!\[.*\n/m, '\n'));
      // Tables fold as they did.
      expect(harmless(text).match(/<\/?(details|summary)>/g)).toEqual(text.match(/<\/?(details|summary)>/g));
    }
  });

  it.each([
    '<img src=x onerror=alert(1)>',
    '<script>alert(1)</script>',
    '<details open onclick="x">',
    '<!-- springwright review -->',
    '<https://example.invalid>',
    '<a href="https://example.invalid">here</a>',
    '<a\nhref="https://example.invalid">here</a>',
    '[here](https://example.invalid)',
    '![](https://example.invalid/x.png)',
    '[here][there]\n\n[there]: https://example.invalid',
    'https://example.invalid www.example.invalid ftp://example.invalid mailto:a@example.invalid',
    '@somebody, @some/team, a&#64;somebody &commat;somebody',
    '#12, other/repository#12, GH-12',
    '```mermaid\ngraph TD\n```',
    '$\\href{https://example.invalid}{x}$',
    'right\u202eto left, \u0007bell',
  ])('does nothing: %j', (text) => {
    const made = harmless(text);
    expect(made).not.toMatch(/<[a-z/!?]|\]\(|\]\[|\]:|:\/\/|\bwww\.|\bmailto:|@\w|#\d|GH-\d|&[#\w]|```|\\[a-z]/i);
    expect(made).not.toMatch(/(?!\u200b)\p{Cf}|(?!\n)\p{Cc}/u);
  });

  it('has an end', () => {
    const made = harmless(`<details>\n${'| a | b |\n'.repeat(20_000)}`);
    expect(made.length).toBeLessThan(61_000);
    expect(made).toMatch(/\| a \| b \|\n\n<\/details>\n\n… and more/);
  });
});
