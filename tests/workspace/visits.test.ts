/** When visits are followed: unless someone looks at something else. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { createWorkspace } from '#workspace/workspace';

const uri = 'file:///17-visits.spring';
const text = readFileSync(join(import.meta.dirname, '../../examples/17-visits.spring'), 'utf8');

it('visits are followed once for a set of numbers, and not where they are not looked at', async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(uri, text, 1);
  const [first] = (await workspace.snapshot(uri))!.appliances;
  expect(first.plan && 'usual' in first.plan && first.plan.usual.end.kind).toBe('closed');

  const tried = text.replace('gable = 24 deg', 'gable = 22 deg');
  expect((await workspace.tryOut(uri, tried, undefined, false))!.appliances[0].plan).toBeUndefined();
  const [followed] = (await workspace.tryOut(uri, tried))!.appliances;
  expect(followed.plan && 'usual' in followed.plan && followed.plan.usual.duration).not.toBe(
    first.plan && 'usual' in first.plan && first.plan.usual.duration,
  );

  // A comment changes no number: the same record of the course.
  workspace.open(uri, `// A remark.\n${text}`, 2);
  const [again] = (await workspace.snapshot(uri))!.appliances;
  expect(again.plan).toBe(first.plan);

  workspace.open(uri, `// Another remark.\n${text.replace('gable = 24 deg', 'gable = 23 deg')}`, 3);
  const [without] = (await workspace.snapshot(uri, undefined, undefined, false))!.appliances;
  expect(without.plan).toBeUndefined();
  // The same text and the same wire as before, now with its visits.
  const [withThem] = (await workspace.snapshot(uri))!.appliances;
  expect(withThem.plan && 'usual' in withThem.plan && withThem.plan.usual.end.kind).toBe('closed');
});
