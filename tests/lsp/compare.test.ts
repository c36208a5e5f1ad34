/** Comparisons over the wire: two files, and a file with an earlier commit of itself, modules included. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import {
  type CompareResult,
  compareRequest,
  type ReadFileParams,
  type ReadFileResult,
  readFileRequest,
} from '#lsp/protocol';
import { loop } from '../features/samples';
import { bundle } from './bundle';
import { startNodeServer, type TestClient } from './test-client';

const uri = 'file:///files/closing.spring';
const partUri = 'file:///files/sizes.spring';
const using = loop
  .replace('use "alloys"', 'use "alloys"\nuse "./sizes.spring"')
  .replace('height = 8 mm', 'height = tall');

/** What commits hold, by commit and uri. */
const committed = new Map([
  [`earlier ${uri}`, using],
  [`earlier ${partUri}`, 'let tall = 8 mm\n'],
  [`broken ${uri}`, loop.replace('appliance closing {', 'appliance closing')],
]);
let asked: string[] = [];
let client: TestClient;

beforeAll(async () => {
  client = await startNodeServer((await bundle('server.node')).file);
  client.files.set(partUri, 'let tall = 9 mm\n');
  client.files.set(uri, using);
  client.connection.onRequest<ReadFileResult, void>(readFileRequest, ({ uri: wanted, revision }: ReadFileParams) => {
    asked.push(`${revision} ${wanted}`);
    const text = revision === undefined ? client.files.get(wanted) : committed.get(`${revision} ${wanted}`);
    return text === undefined ? { error: 'not there' } : { text };
  });
});
afterAll(() => client.stop());

const compare = (revision: string | undefined, before = uri, after = uri) =>
  client.ask<CompareResult>(compareRequest, {
    before: { uri: before, ...(revision && { revision }), name: 'before' },
    after: { uri: after, name: 'after' },
  });

it('compares with a commit, whose modules are those of that commit', async () => {
  const { content, failure } = await compare('earlier');
  expect(failure).toBeUndefined();
  const [closing] = content!.appliances;
  expect([closing.name, closing.state]).toEqual(['closing', 'kept']);
  const length = closing.changes.find(({ name }) => name === 'developed length');
  // A loop that is 1 mm higher takes 2 mm more of wire.
  const [before, after] = [length?.before, length?.after].map((text) => Number.parseFloat(text!));
  expect(after - before).toBeCloseTo(2, 2);
  expect(closing.overlay).toMatch(/^<svg /);
  expect(closing.beside).toMatch(/^<svg /);
  expect(closing.changes.some(({ group, stage }) => group === 'At 1 mm' && stage)).toBe(true);
});

it('reads a commit once, and what is written now each time', async () => {
  await compare('earlier');
  asked = [];
  client.open(uri, using.replace('gable = 15 deg', 'gable = 20 deg'));
  const { content } = await compare('earlier');
  expect(content!.appliances[0].changes.find(({ group }) => group === 'Parameters')).toMatchObject({
    name: 'gable',
    before: '15 deg',
    after: '20 deg',
  });
  expect(asked.filter((line) => line.startsWith('earlier'))).toEqual([]);
  client.close(uri);
});

it('tells a requirement that is met now from one that is not any more', async () => {
  const asks = (least: string) =>
    loop
      .replace('param gable', `let least = ${least}\n  param gable`)
      .replace('canine.force.distal >= 0.1 N', 'canine.force.distal >= least');
  const [lax, strict] = ['file:///files/lax.spring', 'file:///files/strict.spring'];
  client.files.set(lax, asks('0.1 N'));
  client.files.set(strict, asks('100 N'));
  const name = 'require at 1 mm: canine.force.distal >= least';
  const changed = async (before: string, after: string) =>
    (await compare(undefined, before, after)).content!.appliances[0].changes;
  expect(await changed(lax, strict)).toMatchObject([{ group: 'Requirements', name, worse: true }]);
  expect(await changed(strict, lax)).toMatchObject([{ group: 'Requirements', name, better: true }]);
});

it('takes a file that a commit lacks as new, and says why it cannot compare', async () => {
  expect((await compare('nowhere')).content!.appliances.map(({ state }) => state)).toEqual(['added']);
  expect((await compare('broken')).failure).toMatch(/^before has errors, so that there is nothing to compare: /);
  const gone = 'file:///files/gone.spring';
  expect((await compare('nowhere', gone, gone)).failure).toBe(
    'There is no such file: neither before nor after can be read.',
  );
});
