import { expect, test } from 'vitest';
import { createAsker } from '../../client/webview/asker';

test('a wish goes out at once where no answer is awaited', () => {
  const sent: number[] = [];
  const asker = createAsker<number>((wish) => sent.push(wish));
  asker.ask(1);
  expect(sent).toEqual([1]);
  expect(asker.idle).toBe(false);
  asker.answered();
  expect(asker.idle).toBe(true);
  asker.ask(2);
  expect(sent).toEqual([1, 2]);
});

test('of the wishes made while an answer is awaited only the newest goes out, once', () => {
  const sent: number[] = [];
  const asker = createAsker<number>((wish) => sent.push(wish));
  for (const wish of [1, 2, 3, 4]) asker.ask(wish);
  expect(sent).toEqual([1]);
  asker.answered();
  expect(sent).toEqual([1, 4]);
  expect(asker.idle).toBe(false);
  asker.answered();
  expect(sent).toEqual([1, 4]);
  expect(asker.idle).toBe(true);
});
