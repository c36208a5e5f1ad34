// Posts what a review found as the one comment on its pull request: `node post-comment.mjs FOLDER`, in a workflow that runs on
// `workflow_run`. Only the text comes from the review, whose branch may be anybody's; which pull request it is for comes from GitHub.
import { lstat, readFile } from 'node:fs/promises';
import path from 'node:path';
import { harmlessMarkdown } from './harmless-markdown.mjs';

/** Not seen, and how the comment is found again. */
const marker = '<!-- springwright review -->';

/** Of the artifact's text, in bytes. */
const largest = 1024 * 1024;

const [folder] = process.argv.slice(2);
const {
  GITHUB_API_URL: api = 'https://api.github.com',
  GITHUB_REPOSITORY: repository = '',
  GITHUB_TOKEN: token = '',
  GITHUB_EVENT_PATH: eventPath = '',
  // Whose comments are ours: a comment of somebody else's with the same marker is left alone.
  COMMENT_AUTHOR: author = 'github-actions[bot]',
} = process.env;

try {
  console.log(await run());
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
}

/** @returns {Promise<string>} what was done */
async function run() {
  if (!/^[\w.-]+\/[\w.-]+$/.test(repository)) throw new Error('GITHUB_REPOSITORY names no repository.');
  const { workflow_run: review } = JSON.parse(await readFile(eventPath, 'utf8'));
  const number = await pullRequestOf(review);
  if (number === undefined) return 'No open pull request is at the commit that was reviewed: nothing to post.';
  // Ours comes first: whatever the text leaves open, it hides only itself.
  const body = [marker, heading(review), pointer(review), await reviewText(folder)].join('\n\n');
  const known = await ownComment(number);
  if (known === undefined) {
    await call('POST', `/issues/${number}/comments`, { body });
    return `Commented on pull request ${number}.`;
  }
  await call('PATCH', `/issues/comments/${known}`, { body });
  return `Renewed the comment on pull request ${number}.`;
}

/**
 * The open pull request whose branch is at the commit that was reviewed. A run that was overtaken finds none.
 * @param {any} review
 * @returns {Promise<number | undefined>}
 */
async function pullRequestOf({ head_sha: commit, head_branch: branch, head_repository: from }) {
  const head = new URLSearchParams({ state: 'open', head: `${from.owner.login}:${branch}` });
  const found = await call('GET', `/pulls?${head}`);
  return found.find((/** @type {any} */ one) => one.head.sha === commit && one.head.repo?.id === from.id)?.number;
}

/** @param {any} review */
function heading({ conclusion, head_sha: commit }) {
  const verdicts = { success: 'requirements are met', failure: 'something is not as required' };
  const verdict = verdicts[/** @type {'success' | 'failure'} */ (conclusion)] ?? 'the review did not come to its end';
  return `## Springwright: ${verdict} (${String(commit).slice(0, 7)})`;
}

/** @param {any} review */
function pointer({ html_url: address }) {
  return `Drawings of what changed are in the artifact of [this run](${new URL(address).href}).`;
}

/**
 * @param {string} from
 * @returns {Promise<string>}
 */
async function reviewText(from) {
  const file = path.join(from, 'comment.md');
  const known = await lstat(file).catch(() => undefined);
  if (known === undefined) return 'The review did not get as far as a result: its log says why.';
  if (!known.isFile() || known.size > largest) return 'The result of the review is no text of a usual size.';
  return harmlessMarkdown(await readFile(file)) ?? 'The result of the review is no text.';
}

/**
 * @param {number} number
 * @returns {Promise<number | undefined>}
 */
async function ownComment(number) {
  for (let page = 1; ; page++) {
    const comments = await call('GET', `/issues/${number}/comments?per_page=100&page=${page}`);
    const own = comments.find(
      (/** @type {any} */ one) => one.user?.login === author && String(one.body).startsWith(marker),
    );
    if (own !== undefined) return own.id;
    if (comments.length < 100) return undefined;
  }
}

/**
 * @param {string} method
 * @param {string} route Below the repository.
 * @param {object} [content]
 * @returns {Promise<any>}
 */
async function call(method, route, content) {
  const answer = await fetch(`${api}/repos/${repository}${route}`, {
    method,
    headers: {
      accept: 'application/vnd.github+json',
      authorization: `Bearer ${token}`,
      'x-github-api-version': '2022-11-28',
    },
    body: content && JSON.stringify(content),
  });
  if (!answer.ok) throw new Error(`${method} ${route.replace(/\?.*/, '')}: GitHub answers ${answer.status}.`);
  return answer.json();
}
