import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { createTrial } from '../../client/webview/trial';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function started() {
  const written: Record<string, number>[] = [];
  let shown = 0;
  const trial = createTrial(
    () => {
      shown += 1;
    },
    (values) => written.push(values),
  );
  return { trial, written, shown: () => shown };
}

test('a run of movements is shown at each and written once', () => {
  const { trial, written, shown } = started();
  for (const value of [1, 2, 3]) {
    trial.set('arm', value);
    trial.finish('arm');
    vi.advanceTimersByTime(100);
  }
  expect(shown()).toBe(3);
  expect(written).toEqual([]);
  vi.advanceTimersByTime(1000);
  expect(written).toEqual([{ arm: 3 }]);
});

test('news of the text takes it out of nobody’s hand', () => {
  const { trial } = started();
  trial.set('arm', 2);
  trial.settle();
  expect(trial.values).toEqual({ arm: 2 });
  trial.finish('arm');
  vi.advanceTimersByTime(1000);
  trial.settle();
  expect(trial.values).toBeUndefined();
});

test('what is given up is shown as the text has it, and never written', () => {
  const { trial, written, shown } = started();
  trial.set('arm', 2);
  trial.finish('arm');
  trial.cancel('arm');
  vi.advanceTimersByTime(1000);
  expect(trial.values).toBeUndefined();
  expect(shown()).toBe(2);
  expect(written).toEqual([]);
});

test('what was let go is written before something else is shown', () => {
  const { trial, written } = started();
  trial.set('arm', 2);
  trial.finish('arm');
  trial.leave();
  expect(written).toEqual([{ arm: 2 }]);
  vi.advanceTimersByTime(1000);
  expect(written).toHaveLength(1);
  expect(trial.values).toBeUndefined();
});

test('everything that shows a parameter hears of it', () => {
  const { trial } = started();
  const heard: [string, number][] = [];
  trial.onSet((name, value) => heard.push([name, value]));
  trial.set('arm', 2);
  expect(heard).toEqual([['arm', 2]]);
});
