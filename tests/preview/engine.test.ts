/** The preview's engine by its messages, as the page talks to it. */
import { expect, it } from 'vitest';
import { defaultSettings } from '#features/settings';
import { createPreviewEngine } from '#preview/engine';
import type { MessageFromEngine, MessageToEngine } from '#preview/messages';
import type { PreviewContent, PreviewParams } from '#preview/view';

const uri = 'file:///files/closing.spring';
const loop = `use "alloys"
use "./parts.spring"
appliance closing {
  wire 0.016 in x 0.022 in of steel stress relieved
  param gable = 15 deg in 5 deg .. 30 deg
  path running mesial {
    straight 6 mm seat molar straight 4 mm
    preactivate gable toward gingival
    my_loop() as loop
    preactivate gable toward gingival
    straight 4 mm seat canine straight 2 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 2 mm step 0.5 mm
}
`;
const parts = `part my_loop(height = 7 mm) {
  bend 90 deg toward gingival radius 0.5 mm
  foot
  straight (height - 1 mm)
  bend 180 deg toward mesial radius 1 mm
  straight (height - 1 mm)
  foot
  bend 90 deg toward mesial radius 0.5 mm
}
`;

/** An engine with someone at its other end, who has the files given and keeps what it says. */
function talk(files: Readonly<Record<string, string>> = { 'file:///files/parts.spring': parts }) {
  const said: MessageFromEngine[] = [];
  const waiting: { type: string; heard: (message: MessageFromEngine) => void }[] = [];
  const engine = createPreviewEngine(
    (message) => {
      said.push(message);
      if (message.type === 'readFile') tell({ type: 'file', uri: message.uri, text: files[message.uri] });
      for (const one of waiting.splice(0)) {
        if (one.type === message.type) one.heard(message);
        else waiting.push(one);
      }
    },
    (task) => setImmediate(task),
  );
  const tell = (message: MessageToEngine): void => engine.receive(message);
  const next = <T extends MessageFromEngine['type']>(type: T) =>
    new Promise<Extract<MessageFromEngine, { type: T }>>((resolve) =>
      waiting.push({ type, heard: resolve as (message: MessageFromEngine) => void }),
    );
  return {
    said,
    tell,
    next,
    async ask(params: Partial<PreviewParams> = {}): Promise<PreviewContent | undefined> {
      const answer = next('answer');
      tell({ type: 'ask', params: { uri, ...params } });
      const { content, failure } = await answer;
      expect(failure).toBeUndefined();
      return content;
    },
  };
}

const figure = (content: PreviewContent | undefined, group: string, label: string): string =>
  content!.readouts.find((one) => one.group === group && one.label === label)!.value;

it('draws a text that it is given, with the files that it reads', async () => {
  const { tell, ask, said } = talk();
  tell({ type: 'text', uri, version: 1, text: loop });
  const content = await ask({ activation: 99 });
  expect(content).toMatchObject({ uri, version: 1, appliances: ['closing'], appliance: 'closing', stale: false });
  expect(content?.activation).toEqual({ value: 2, from: 0, to: 2, step: 0.5 });
  expect(content?.drawing).toMatch(/^<svg/);
  expect(content?.readouts.map(({ group }) => group)).toEqual(
    expect.arrayContaining(['Wire', 'loop', 'molar', 'canine']),
  );
  expect(said.filter(({ type }) => type === 'readFile')).toEqual([
    { type: 'readFile', uri: 'file:///files/parts.spring' },
  ]);
});

it('says what is missing', async () => {
  const { tell, ask } = talk({});
  expect(await ask()).toBeUndefined();
  tell({ type: 'text', uri, version: 1, text: '// nothing yet\n' });
  expect((await ask())?.notice).toContain('no appliance');
  tell({ type: 'text', uri, version: 2, text: loop });
  expect((await ask())?.notice).toContain('parts.spring');
});

it('solves for an activation between the stages', async () => {
  const { tell, ask } = talk();
  tell({ type: 'text', uri, version: 1, text: loop });
  const pull = async (activation: number): Promise<number> => {
    const content = await ask({ activation });
    expect(content?.activation?.value).toBeCloseTo(activation, 9);
    return Number.parseFloat(figure(content, 'canine', 'force distal'));
  };
  const [low, between, high] = [await pull(1), await pull(1.25), await pull(1.5)];
  // The pull grows nearly in proportion to the activation: within 5 % of the middle of its neighbours.
  expect(Math.abs(between - (low + high) / 2)).toBeLessThan(0.05 * high);
  expect(between).toBeGreaterThan(low);
  expect(between).toBeLessThan(high);
});

it('shows forces in the unit of the settings', async () => {
  const { tell, ask } = talk();
  tell({ type: 'text', uri, version: 1, text: loop });
  expect(figure(await ask(), 'canine', 'force distal')).toMatch(/ gf$/);
  tell({ type: 'settings', uri, settings: { ...defaultSettings, units: { force: 'N' } } });
  expect(figure(await ask(), 'canine', 'force distal')).toMatch(/ N$/);
});

it('says when a file that a document uses is another', async () => {
  const files = { 'file:///files/parts.spring': parts };
  const { tell, ask, next } = talk(files);
  tell({ type: 'text', uri, version: 1, text: loop });
  const before = figure(await ask(), 'Wire', 'developed length');
  const changed = next('changed');
  files['file:///files/parts.spring'] = parts.replace('height = 7 mm', 'height = 8 mm');
  tell({ type: 'fileChanged', uri: 'file:///files/parts.spring' });
  expect(await changed).toMatchObject({ uri });
  const after = figure(await ask(), 'Wire', 'developed length');
  // Two legs, each 1 mm longer.
  expect(Number.parseFloat(after) - Number.parseFloat(before)).toBeCloseTo(2, 1);

  const opened = next('changed');
  tell({ type: 'text', uri: 'file:///files/parts.spring', version: 1, text: parts });
  expect(await opened).toMatchObject({ uri });
  expect(figure(await ask(), 'Wire', 'developed length')).toBe(before);
});

it('shows values tried out, and writes them as one edit of the text', async () => {
  const { tell, ask, next } = talk();
  tell({ type: 'text', uri, version: 4, text: loop });
  const before = figure(await ask(), 'canine', 'force distal');
  expect(figure(await ask({ values: { gable: 25 } }), 'canine', 'force distal')).not.toBe(before);
  expect(figure(await ask(), 'canine', 'force distal')).toBe(before);

  const edit = next('edit');
  tell({ type: 'write', params: { uri, values: { gable: 25 } } });
  const { version, changes } = await edit;
  expect(version).toBe(4);
  const [{ start, end, text }] = changes;
  expect(loop.slice(0, start) + text + loop.slice(end)).toBe(loop.replace('gable = 15 deg', 'gable = 25 deg'));

  const again = next('changed');
  tell({ type: 'write', params: { uri, values: { unknown: 1 } } });
  expect(await again).toMatchObject({ uri });
});

it('gives bands where they are asked for, and gives them up for the next wish', async () => {
  const { tell, ask, next, said } = talk();
  // Stays elastic, which takes a tenth of the time.
  const elastic = loop.replace('2 mm step 0.5 mm', '0.4 mm step 0.2 mm').replace('gable = 15 deg', 'gable = 5 deg');
  tell({ type: 'text', uri, version: 1, text: elastic });
  expect(figure(await ask({ activation: 0.3 }), 'canine', 'force distal')).toMatch(/^[\d.]+ gf$/);
  const bands = next('bands');
  tell({ type: 'askBands', params: { uri, activation: 0.3 } });
  expect(figure((await bands).content, 'canine', 'force distal')).toMatch(/^[\d.]+ gf \([\d.]+ \.\. [\d.]+\)$/);

  tell({ type: 'text', uri, version: 2, text: elastic.replace('gable = 5 deg', 'gable = 6 deg') });
  await ask();
  const before = said.filter(({ type }) => type === 'bands').length;
  tell({ type: 'askBands', params: { uri } });
  await ask();
  for (let turn = 0; turn < 20; turn++) await new Promise((resolve) => setImmediate(resolve));
  expect(said.filter(({ type }) => type === 'bands')).toHaveLength(before);
});

it('has what a trial activation would change after what there is to see first', async () => {
  const { tell, ask, next, said } = talk();
  tell({ type: 'text', uri, version: 1, text: loop });
  const later = next('changed');
  const groups = (content: PreviewContent | undefined) => new Set(content!.readouts.map(({ group }) => group));
  expect(groups(await ask())).not.toContain('If pulled on trial');
  await later;
  expect(groups(await ask())).toContain('If pulled on trial');
  expect(said.filter(({ type }) => type === 'changed')).toHaveLength(1);
});
