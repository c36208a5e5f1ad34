/** Sheets measured back with another program (pdf.js): at scale to 0.1 mm, everything on paper, the same bytes each time. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { shapesOf } from '#export/shapes';
import { actualSize } from '#export/template';
import { makeSheet } from '#sheet/sheet';
import { templatePdf } from '#sheet/template-pdf';
import { createWorkspace } from '#workspace/workspace';

const examples = resolve(import.meta.dirname, '../../examples');
const MM = 72 / 25.4;

const readExample = (name: string) => readFileSync(resolve(examples, name), 'utf8');

async function sheet(name: string, paper: 'A4' | 'Letter', card = false, date?: string, text = readExample(name)) {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open('file:///a.spring', text, 1);
  const [evaluated] = (await workspace.snapshot('file:///a.spring'))!.appliances;
  const units = { force: 'gf' } as const;
  const input = { evaluated, text, path: name, version: '0.0.0', paper, card, date, units, activation: undefined };
  return { bytes: await makeSheet(input), again: () => makeSheet(input), evaluated };
}

async function pages(bytes: Uint8Array) {
  const document = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  return Promise.all(
    Array.from({ length: document.numPages }, async (_, k) => {
      const page = await document.getPage(k + 1);
      const [, , width, height] = page.view;
      const { items } = await page.getTextContent();
      const words = items.flatMap((item) =>
        'str' in item && item.str.trim() !== ''
          ? [{ text: item.str, x: item.transform[4], y: height - item.transform[5], width: item.width }]
          : [],
      );
      return { width, height, words, lines: linesOf(await page.getOperatorList()) };
    }),
  );
}

/** Polylines in points, from pdf.js's path operators: each a list of numbers, a code before every point. */
function linesOf({ fnArray, argsArray }: { fnArray: number[]; argsArray: unknown[][] }): number[][] {
  return fnArray.flatMap((fn, k) => {
    if (fn !== OPS.constructPath) return [];
    const [data] = argsArray[k][1] as [Record<string, number> | Float32Array];
    const numbers = Object.values(data ?? {});
    const points: number[] = [];
    for (let at = 0; at < numbers.length; at += 3) points.push(numbers[at + 1], numbers[at + 2]);
    return [points];
  });
}

describe.each(['A4', 'Letter'] as const)('a sheet on %s', (paper) => {
  it('has its bar of 50 mm and its wire at scale', async () => {
    const { bytes, evaluated } = await sheet('06-space-closing-spring.spring', paper);
    const [first] = await pages(bytes);
    expect([first.width, first.height].map((points) => Math.round(points / MM))).toEqual(
      paper === 'A4' ? [210, 297] : [216, 279],
    );
    const spans = first.lines.filter((line) => line.length === 4).map(([x0, , x1]) => Math.abs(x1 - x0) / MM);
    expect(Math.min(...spans.map((length) => Math.abs(length - 50)))).toBeLessThan(0.1);
    const { points } = evaluated.analysis!.passive;
    // The template's main view is the first of the lines through all points.
    const wire = first.lines.find((line) => line.length === (points.length / 3) * 2)!;
    for (let k = 0; k < points.length / 3; k++) {
      expect(Math.abs((wire[2 * k] - wire[0]) / MM - (points[3 * k] - points[0]))).toBeLessThan(0.1);
      expect(Math.abs(Math.abs(wire[2 * k + 1] - wire[1]) / MM - Math.abs(points[3 * k + 1] - points[1]))).toBeLessThan(
        0.1,
      );
    }
  });

  it('draws the wire in place to its own bar', async () => {
    const { bytes, evaluated } = await sheet('06-space-closing-spring.spring', paper);
    const { points } = evaluated.analysis!.stages.find(({ activation }) => activation === 1.5)!.state!.outline;
    const ends = [points[0], points[points.length - 3]];
    const drawings = (await pages(bytes)).flatMap(({ lines, words }) => {
      // "5 mm" stands above the middle of a bar with strokes at its ends: left, left, left, right, right, right.
      const bars = lines.filter((line) => line.length === 12 && line[0] === line[2] && line[8] === line[10]);
      return words.some(({ text }) => text === '5 mm') ? [{ lines, bar: bars.at(-1)! }] : [];
    });
    expect(drawings.length).toBeGreaterThan(0);
    for (const { lines, bar } of drawings) {
      const scale = (bar[8] - bar[0]) / 5;
      const spans = lines
        .filter((line) => line.length === (points.length / 3) * 2)
        .map((line) => (line.at(-2)! - line[0]) / scale);
      // To 0.1 mm of the wire.
      expect(Math.min(...spans.map((span) => Math.abs(span - (ends[1] - ends[0]))))).toBeLessThan(0.1);
    }
  });

  it.each([
    '03-t-loop.spring',
    '06-space-closing-spring.spring',
    '11-archwire.spring',
    '04-intrusion-cantilever.spring',
  ])('keeps everything of %s on the paper', async (name) => {
    const all = await pages((await sheet(name, paper)).bytes);
    const said = all.flatMap(({ words }) => words.map(({ text }) => text)).join(' ');
    for (const part of [
      'not a prescription',
      'The wire',
      'developed length',
      'Requirements',
      'Bending plan',
      'SHA-256',
      'keep patient data off this sheet',
    ])
      expect(said).toContain(part);
    expect(said).not.toMatch(/NaN|undefined|\[object/);
    for (const { words, width, height } of all) {
      for (const { x, y, width: length } of words) {
        expect(x).toBeGreaterThan(10 * MM);
        expect(x + length).toBeLessThan(width - 10 * MM);
        expect(y).toBeGreaterThan(10 * MM);
        expect(y).toBeLessThan(height - 5 * MM);
      }
    }
  });
});

it('tells the cautions that the editor underlines, and how forces grow', async () => {
  const { bytes, evaluated } = await sheet('06-space-closing-spring.spring', 'A4');
  const said = (await pages(bytes)).flatMap(({ words }) => words.map(({ text }) => text)).join(' ');
  const cautions = evaluated.problems.filter(({ severity }) => severity !== 'hint');
  expect(cautions.length).toBeGreaterThan(0);
  for (const { message } of cautions) expect(said).toContain(message.slice(0, 40));
  expect(said).toContain('canine (bracket), as the activation grows');
  expect(said).toContain('0.017 × 0.025 in');
});

it('a card fits on one page and tells neutral, activation, readings and limits', async () => {
  for (const name of ['03-t-loop.spring', '06-space-closing-spring.spring', '04-intrusion-cantilever.spring']) {
    const all = await pages((await sheet(name, 'Letter', true)).bytes);
    expect(all).toHaveLength(1);
    const said = all[0].words.map(({ text }) => text).join(' ');
    for (const part of name.startsWith('04')
      ? ['Engage', 'When a reading is off', 'not a prescription']
      : [
          'Neutral position',
          'As it looks',
          'Nothing is computed beyond',
          'Activate',
          'leg gap',
          'Limits',
          'For the patient',
          'When a reading is off',
          'not a prescription',
        ])
      expect(said).toContain(part);
  }
});

it('a card of many stages leaves some out, never the working one or the last', async () => {
  const name = '06-space-closing-spring.spring';
  const fine = readExample(name)
    .replace('step 0.25 mm', 'step 0.1 mm')
    .replace('at activation 1.5 mm', 'at activation 1.3 mm');
  const { bytes, evaluated } = await sheet(name, 'Letter', true, undefined, fine);
  expect(evaluated.analysis!.stages.length).toBeGreaterThan(20);
  const all = await pages(bytes);
  expect(all).toHaveLength(1);
  const said = all[0].words.map(({ text }) => text);
  for (const activation of ['0 mm', '1.3 mm', '2 mm']) expect(said).toContain(activation);
  expect(said).not.toContain('0.1 mm');
});

it('is the same, byte for byte, when it is made again', async () => {
  const { bytes, again } = await sheet('03-t-loop.spring', 'A4');
  expect(await again()).toEqual(bytes);
});

it('bears a date only where one is given', async () => {
  const said = async (date?: string) => {
    const { again } = await sheet('03-t-loop.spring', 'A4', true, date);
    return (await pages(await again()))[0].words.map(({ text }) => text).join(' ');
  };
  expect(await said('14 May 2026')).toContain('14 May 2026');
  expect(await said()).not.toMatch(/20\d\d/);
});

it('has a template as a page of its own size, at scale', async () => {
  const { evaluated } = await sheet('06-space-closing-spring.spring', 'A4');
  const template = actualSize(shapesOf(evaluated).find(({ name }) => name === 'passive')!, evaluated.appliance.site);
  const [page] = await pages(await templatePdf(template, { title: 'a', creator: 'b' }));
  expect(Math.abs(page.width / MM - template.width)).toBeLessThan(0.1);
  expect(Math.abs(page.height / MM - template.height)).toBeLessThan(0.1);
  for (const { x, width } of page.words) expect(x + width).toBeLessThan(page.width);
  const [wire] = template.lines;
  const drawn = page.lines.find((line) => line.length === 2 * wire.points.length)!;
  wire.points.forEach(([x, y], k) => {
    expect(Math.abs(drawn[2 * k] / MM - x)).toBeLessThan(0.1);
    // pdf.js gives what is written: y down, as the page's own transform turns it over.
    expect(Math.abs(drawn[2 * k + 1] / MM - y)).toBeLessThan(0.1);
  });
});
