import { beforeAll, describe, expect, it } from 'vitest';
import { hoverShowsBands, provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { defaultSettings } from '#features/settings';
import { influences } from '#model/bands';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import { fixtureUri, readFixture, wholeText } from './fixture';
import { loop } from './samples';

let plain: Snapshot;
let spread: Snapshot;

beforeAll(async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open(fixtureUri, loop, 1);
  plain = (await workspace.snapshot(fixtureUri))!;
  spread = await workspace.withBands(plain);
});

/** What the hover says at the cursor's place in the sample. */
function hoverAt(marked: string, snapshot = spread): string {
  const { text, cursor } = readFixture(marked);
  expect(text).toBe(loop);
  const hover = provideHover(snapshot, cursor!, defaultSettings);
  return hover === null ? '' : (hover.contents as { value: string }).value;
}

describe('hover with bands', () => {
  it('gives every component of a force system its band, and says what makes most of the largest ones', () => {
    const text = hoverAt(loop.replace('bracket canine', 'bracket can$0ine'));
    expect(text.match(/^\| (force|moment) \|.*\(-?[\d.]+ \.\. -?[\d.]+\)/gm)).toHaveLength(6);
    expect(text).toMatch(/- distal: Most of the band: \d+ % /);
    expect(text).toMatch(/- crown-\w+: Most of the band: \d+ % /);
  });

  it('gives a result its band in the sense in which it is named', () => {
    const text = hoverAt(loop.replace('canine.force.distal', 'canine.force.dis$0tal'));
    const [, value, low, high] = /([\d.]+) gf \((-?[\d.]+) \.\. (-?[\d.]+)\) at 1 mm/.exec(text)!.map(Number);
    expect(low).toBeLessThan(value);
    expect(high).toBeGreaterThan(value);
    const { low: mesialLow } = spread.appliances[0].bands!.bands.wrenches[1].force[0];
    // 1 gf = 0.00980665 N; three figures are shown.
    expect(Math.abs(high / (-mesialLow / 0.00980665) - 1)).toBeLessThan(0.01);
  });

  it('says at a line of the path what the pliers’ accuracy there does, and at the one that matters most to be careful', () => {
    const [most] = influences(spread.appliances[0].bands!);
    const careful = 'be careful with the pliers';
    const starts = ['straight 7 mm\n    preactivate', 'preactivate gable', 'vertical(height = 8'];
    const texts = starts.map((start) => {
      const at = loop.indexOf(`    ${start}`) + 4;
      return { at, text: hoverAt(`${loop.slice(0, at)}$0${loop.slice(at)}`) };
    });
    for (const { at, text } of texts) {
      expect(text).toContain('Bent to ± 0.25 mm and ± 2 deg');
      expect(text).toMatch(/\| canine distal \| ± [\d.]+ gf \| \d+ % \|/);
      expect(text.includes(careful)).toBe(at === most.span.start);
    }
  });

  it('says how far neutral and stiffness spread', () => {
    const text = hoverAt(loop.replace('activation pull', 'activ$0ation pull'));
    expect(text).toMatch(/About 19 of 20 wires: -?[\d.]+ mm \(-?[\d.]+ \.\. -?[\d.]+\)/);
    expect(text).toMatch(/About 19 of 20 wires: [\d.]+ gf\/mm \(/);
  });

  it('says at the loop how far its legs spread', () => {
    expect(hoverAt(loop.replace('as loop', 'as lo$0op'))).toMatch(/\| working, 19 of 20 wires \| .*mm \(.*deg \(/);
  });

  it('says at the wire what the results rest on, bands or none', () => {
    for (const snapshot of [plain, spread]) {
      const text = hoverAt(loop.replace('  wire 0.017', '  wi$0re 0.017'), snapshot);
      expect(text).toMatch(/\| modulus of beta_titanium \| 66 GPa \(62 GPa \.\. 69 GPa\) \| From memory: BG80/);
      expect(text).toMatch(/\| angle of a bend or twist, bent by hand \| ± 2 deg \| Common practice/);
      expect(text).toMatch(/\| radius of the wire’s edges \| 0 mm \| No source stated/);
    }
  });

  it('asks for bands only where it tells of them', () => {
    const asks = (marked: string) => hoverShowsBands(plain, readFixture(marked).cursor!);
    expect(asks(loop.replace('bracket canine', 'bracket can$0ine'))).toBe(true);
    expect(asks(loop.replace('canine.force.distal', 'canine.force.dis$0tal'))).toBe(true);
    expect(asks(loop.replace('preactivate gable', 'preact$0ivate gable'))).toBe(true);
    expect(asks(loop.replace('activation pull', 'activ$0ation pull'))).toBe(true);
    expect(asks(loop.replace('toward gingival', 'toward gin$0gival'))).toBe(false);
    expect(asks(loop.replace('param gable', 'param ga$0ble'))).toBe(false);
    expect(asks(loop.replace('straight 6 mm', 'straight 6 m$0m'))).toBe(false);
  });
});

describe('influences', () => {
  it('share out what the wire’s own figures leave of the bands', () => {
    const bands = spread.appliances[0].bands!;
    const found = influences(bands);
    const total = found.reduce((sum, { share }) => sum + share, 0);
    expect(total).toBeGreaterThan(0.3);
    expect(total).toBeLessThan(1);
    for (const { parts } of found) expect(parts).toHaveLength(4);
    // Every line that shapes the wire between the seats, once: two straights, two gables and the loop.
    expect(found).toHaveLength(5);
  });
});

describe('hints', () => {
  const withBands = { ...defaultSettings, hints: { ...defaultSettings.hints, bands: true } };
  const marks = (snapshot: Snapshot, settings = withBands) =>
    provideInlayHints(snapshot, wholeText, settings).filter(({ label }) => String(label).includes('of the spread'));

  it('mark the line where careful bending matters most, only where that is switched on', () => {
    const [most] = influences(spread.appliances[0].bands!);
    const hints = marks(spread);
    expect(hints).toHaveLength(1);
    expect(hints[0].position.line).toBe(loop.slice(0, most.span.end).split('\n').length - 1);
    expect(hints[0].label).toMatch(/most of the spread: \d+ %/);
    expect(marks(spread, defaultSettings)).toEqual([]);
    expect(marks(plain)).toEqual([]);
  });
});
