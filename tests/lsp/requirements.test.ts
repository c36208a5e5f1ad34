/** Requirements over the wire: of files that are open and of files that are not, with the settings' unit. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import {
  type CheckRequirementsResult,
  checkRequirementsRequest,
  type RequirementsResult,
  requirementsRequest,
} from '#lsp/protocol';
import { loop, vBend } from '../features/samples';
import { bundle } from './bundle';
import { startNodeServer, type TestClient } from './test-client';

let client: TestClient;

beforeAll(async () => {
  client = await startNodeServer((await bundle('server.node')).file);
});
afterAll(() => client.stop());

const list = (uri: string) => client.ask<RequirementsResult>(requirementsRequest, { uri });
const check = (uri: string) => client.ask<CheckRequirementsResult>(checkRequirementsRequest, { uri });

it('lists and checks a file that is not open, and solves nothing to list it', async () => {
  const uri = 'file:///files/closed.spring';
  client.files.set(uri, vBend);
  const { solves } = await client.effort();
  expect((await list(uri))[0].requirements).toHaveLength(2);
  expect((await client.effort()).solves).toBe(solves);
  expect((await check(uri))?.verdicts.map(({ outcome }) => outcome)).toEqual(['met', 'missed']);
});

it('speaks in the unit of the settings and with the figures of the diagnostics', async () => {
  const uri = 'file:///files/open.spring';
  client.open(uri, vBend);
  client.changeSettings({ units: { force: 'N' } });
  const missed = (await check(uri))!.verdicts[1];
  expect(missed.actual).toMatch(/ N$/);
  const found = (await client.diagnostics(uri)).find(({ code }) => code === 'requirement-missed');
  expect(found?.message).toContain(`is ${missed.actual}`);
  client.changeSettings({});
});

it('says that a broken text cannot be held against anything, and nothing of a file that is not there', async () => {
  const uri = 'file:///files/broken.spring';
  client.open(uri, loop);
  expect((await check(uri))?.failure).toBeUndefined();
  client.change(uri, { text: loop.replace('straight 6 mm', 'straight 6 deg') });
  const { failure, verdicts } = (await check(uri))!;
  expect(failure).toMatch(/^The file has errors: .*length/);
  expect(verdicts).toEqual([]);
  expect(await list('file:///files/nowhere.spring')).toEqual([]);
  expect(await check('file:///files/nowhere.spring')).toBeNull();
});
