/** Every snippet, taken as it comes, is an appliance that can be computed. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { snapshotOf } from '../features/fixture';

const file = path.resolve(import.meta.dirname, '../../client/snippets/springwright.json');
const snippets: Record<string, { prefix: string; body: string[] }> = JSON.parse(readFileSync(file, 'utf8'));

test.each(Object.entries(snippets))('%s', async (_, { body }) => {
  const text = body
    .join('\n')
    .replace(/\$\{\d+:([^}]*)\}/g, '$1')
    .replace(/\$\{\d+\|([^,|]*)[^}]*\}/g, '$1')
    .replace('$0', '');
  expect(text).not.toContain('$');
  const { appliances, problems } = await snapshotOf(text);
  expect(problems.filter(({ severity, code }) => severity === 'error' && code !== 'requirement-missed')).toEqual([]);
  expect(appliances).toHaveLength(1);
  expect(appliances[0].analysis?.failure).toBeUndefined();
  expect(appliances[0].analysis?.stages.every(({ state }) => state)).toBe(true);
});
