import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { type CompletionItem, InsertTextFormat, type TextEdit } from 'vscode-languageserver-types';
import { completesFiles, provideCompletion } from '#features/completion';
import { wordSnippet } from '#features/completion/snippets';
import { bundledModules } from '#features/documentation/modules';
import { parse } from '#grammar/parser';
import { itemWords, memberWords, stepWords } from '#grammar/words';
import { library } from '#library';
import { fixtureUri, readFixture, snapshotOf } from './fixture';
import { loop } from './samples';

describe('completion', () => {
  it('offers items at the start of a line of the file', async () => {
    await checkCompletion('use "alloys"\n$0', { has: ['use', 'part', 'appliance', 'alloy'], lacks: ['bend', 'tube'] });
  });

  it('offers members inside an appliance', async () => {
    await checkCompletion('appliance a {\n  $0\n}', {
      has: ['wire', 'param', 'path', 'tube', 'bracket', 'hook', 'activation', 'require'],
      lacks: ['appliance', 'straight'],
    });
  });

  it('offers the parameters that a variant has not varied yet', async () => {
    const outline = `appliance outline {
  param height = 7 mm in 4 mm .. 9 mm
  param width = 2 mm
  let half = width / 2
}
`;
    await checkCompletion(`${outline}variant low of outline {\n  $0\n}`, { only: ['height', 'width'] });
    await checkCompletion(`${outline}variant low of outline {\n  height = 5 mm\n  w$0\n}`, { only: ['width'] });
    await checkCompletion(`${outline}variant low of outline {\n  height = 5 $0\n}`, { has: ['mm'], lacks: ['width'] });
    await checkCompletion(`${outline}variant low of $0`, { has: ['outline'], lacks: ['steel'] });
  });

  it('knows an auxiliary wire: its appliance, where it stands, its own lines and the values of the appliance', async () => {
    const main = loop.replace(/\}\n$/, '}\n');
    const name = /appliance (\w+)/.exec(main)![1];
    await checkCompletion(`${main}auxiliary spring $0`, { has: ['of'] });
    await checkCompletion(`${main}auxiliary spring of $0`, { has: [name], lacks: ['steel'] });
    await checkCompletion(`${main}auxiliary spring of ${name} $0`, { has: ['at'] });
    await checkCompletion(`${main}auxiliary spring of ${name} at $0`, { has: ['molar', 'canine'] });
    await checkCompletion(`${main}auxiliary spring of ${name} at molar 3 mm $0 {\n}`, { has: ['gingival', 'mesial'] });
    await checkCompletion(`${main}auxiliary spring of ${name} at molar {\n  $0\n}`, { has: ['wire', 'path', 'tube'] });
    const spring = `auxiliary spring of ${name} at molar {\n  tube molar\n  hook front\n}\n`;
    const results = (line: string) => main.replace(/loop\.leg_gap [^\n]*/, line) + spring;
    await checkCompletion(results('$0'), { has: ['molar', 'canine', 'spring', 'wire'], lacks: ['front'] });
    await checkCompletion(results('spring.$0'), { only: ['molar', 'front', 'wire'] });
    await checkCompletion(results('spring.front.$0'), { has: ['force', 'moment'] });
    await checkCompletion(results('spring.front.force.$0'), { has: ['gingival', 'total'] });
    await checkCompletion(results('spring.wire.$0'), { has: ['stress', 'elastic_use'] });
  });

  it('offers seats round an arch form', async () => {
    const arch = (line: string) => `use "alloys"
appliance arch in upper arch {
  wire 0.016 in x 0.022 in of steel
  path running left {
    follow beta_arch(width = 58 mm, depth = 44 mm) from 47 mm right to 47 mm left {
      ${line}
    }
  }
  tube stop
}
`;
    await checkCompletion(arch('$0'), { only: ['seat'] });
    await checkCompletion(arch('seat $0'), { has: ['teeth', 'stop'] });
    await checkCompletion(arch('seat stop $0'), { only: ['at'] });
  });

  it('offers steps and parts inside a path', async () => {
    await checkCompletion(inPath('    $0'), {
      has: ['straight', 'bend', 'preactivate', 'twist', 'seat', 'vertical'],
      lacks: ['wire', 'tube'],
    });
  });

  it('offers the words of a path while the first letters are typed', async () => {
    await checkCompletion(inPath('    str$0'), { has: ['straight'], lacks: ['wire'] });
  });

  it('offers directions after toward', async () => {
    await checkCompletion(inPath('    bend 20 deg toward $0'), {
      only: ['mesial', 'distal', 'gingival', 'occlusal', 'buccal', 'lingual'],
    });
  });

  it('offers mesial and distal after running', async () => {
    await checkCompletion('appliance a {\n  path running $0\n}', { only: ['mesial', 'distal'] });
  });

  it('offers directions after the attachment that moves', async () => {
    await checkCompletion(withLine('  activation move canine $0'), { has: ['distal', 'gingival'], lacks: ['step'] });
  });

  it('offers units after a number', async () => {
    await checkCompletion(inPath('    straight 7 $0'), { has: ['mm', 'in', 'deg', 'gf', 'N'], lacks: ['bend'] });
  });

  it('offers lengths after a force, which make a moment', async () => {
    await checkCompletion(withLine('  require when engaged {\n    canine.moment.total <= 2 N $0\n  }'), {
      has: ['mm', 'because'],
      lacks: ['gf'],
    });
  });

  it('offers toward, then radius', async () => {
    await checkCompletion(inPath('    bend 20 deg $0'), { has: ['toward'], lacks: ['radius'] });
    await checkCompletion(inPath('    bend 20 deg toward gingival $0'), { has: ['radius'], lacks: ['toward'] });
  });

  it('offers values in scope where a value stands', async () => {
    await checkCompletion(inPath('    straight $0'), { has: ['gable', 'min', 'sqrt'], lacks: ['canine', 'vertical'] });
    await checkCompletion(inPath('    straight 2 * $0'), { has: ['gable'], lacks: ['mm'] });
  });

  it('offers the parameters of the part that is called, without those already given', async () => {
    await checkCompletion(inPath('    vertical($0)'), { only: ['height', 'width'] });
    await checkCompletion(inPath('    vertical(height = 7 mm, $0)'), { only: ['width'] });
    await checkCompletion(inPath('    vertical(height = $0)'), { has: ['gable', 'min'], lacks: ['height', 'width'] });
  });

  it('offers attachments after seat and through', async () => {
    await checkCompletion(inPath('    seat $0'), { only: ['molar', 'canine'] });
    await checkCompletion(withLine('  activation pull through $0'), { only: ['molar', 'canine'] });
    await checkCompletion(withLine('  activation pull through canine $0'), { has: ['toward'], lacks: ['step'] });
    await checkCompletion(withLine('  activation pull through canine toward $0'), { has: ['distal', 'mesial'] });
  });

  it('offers the clauses of an attachment that are not there yet', async () => {
    await checkCompletion(withLine('  hook extra at 3 mm mesial $0'), {
      has: ['moved', 'tied', 'tip'],
      lacks: ['at', 'toward'],
    });
  });

  it('offers alloys after of', async () => {
    await checkCompletion('use "alloys"\nappliance a {\n  wire round 0.016 in of $0\n}', {
      has: ['beta_titanium'],
      lacks: ['round', 'gable'],
    });
  });

  it('offers result names after a dot', async () => {
    const condition = (text: string): string => withLine(`  require when engaged {\n    ${text}\n  }`);
    await checkCompletion(condition('canine.$0'), { only: ['force', 'moment', 'slid', 'play'] });
    await checkCompletion(condition('canine.force.$0'), { has: ['distal', 'gingival', 'total'], lacks: ['tip'] });
    await checkCompletion(condition('canine.moment.$0'), { has: ['crown_mesial', 'mesial_out'], lacks: ['distal'] });
    await checkCompletion(condition('wire.$0'), { has: ['stress', 'yield', 'elastic_use'] });
    await checkCompletion(condition('loop.$0'), {
      only: ['leg_gap', 'leg_angle', 'leg_gap_set', 'leg_angle_set'],
    });
  });

  it('offers the clauses of contact, and the ends and results of loads', async () => {
    await checkCompletion(withLine('  tube back slot s022 $0'), { has: ['sliding', 'cinched', 'with', 'friction'] });
    await checkCompletion(withLine('  tube back slot s022 with $0'), { only: ['play'] });
    await checkCompletion(withLine('  elastic $0'), { only: ['from'] });
    await checkCompletion(withLine('  elastic from $0'), { has: ['molar', 'canine'], lacks: ['loop'] });
    await checkCompletion(withLine('  elastic from canine $0'), { only: ['to'] });
    await checkCompletion(withLine('  coil from canine to molar $0'), { only: ['force', 'rate'] });
    await checkCompletion(withLine('  coil from canine to molar rate 0.4 N/mm $0'), { has: ['rest'] });
    await checkCompletion(
      withLine('  elastic closing from canine to molar force 1 N\n  require when engaged {\n    closing.$0\n  }'),
      { only: ['force', 'length'] },
    );
  });

  it('offers the owners of results at the start of a condition', async () => {
    await checkCompletion(withLine('  require at activation 1 mm {\n    $0\n  }'), {
      has: ['molar', 'canine', 'loop', 'wire', 'activation', 'gable'],
      lacks: ['straight', 'param'],
    });
  });

  it('offers the stages of a requirement', async () => {
    await checkCompletion(withLine('  require $0'), { only: ['at', 'along', 'when', 'over'] });
    await checkCompletion(withLine('  require at $0'), { only: ['activation', 'neutral'] });
  });

  it('offers bundled modules after use', async () => {
    await checkCompletion('use "$0', { has: ['alloys', 'loops'] });
    await checkCompletion('use $0', { has: ['alloys'] });
  });

  it('offers files of the workspace after use, over what is typed', async () => {
    const { text, cursor } = readFixture('use "./parts/ho$0"\n');
    const files = ['file:///files/parts/hooks.spring', 'file:///other/a%20b.spring', fixtureUri];
    const snapshot = await snapshotOf(text);
    expect(completesFiles(snapshot, cursor!)).toBe(true);
    const found = provideCompletion(snapshot, cursor!, files).filter(({ detail }) => detail === 'file');
    expect(found.map(({ label }) => label)).toEqual(['../other/a b.spring', './parts/hooks.spring']);
    expect(TextDocument.applyEdits(TextDocument.create('', '', 1, text), [found[1].textEdit as TextEdit])).toBe(
      'use "./parts/hooks.spring"\n',
    );
  });

  it('puts a module between quotes where there are none yet', async () => {
    const { text, cursor } = readFixture('use al$0\n');
    const alloys = provideCompletion(await snapshotOf(text), cursor!).find(({ label }) => label === 'alloys');
    expect(TextDocument.applyEdits(TextDocument.create('', '', 1, text), [alloys?.textEdit as TextEdit])).toBe(
      'use "alloys"\n',
    );
  });

  it('knows every bundled module', () => {
    expect(bundledModules.map(({ name }) => name).sort()).toEqual([...library.keys()].sort());
  });

  it('offers nothing in comments, texts and new names', async () => {
    await checkCompletion('appliance a {\n  // a $0\n}', { only: [] });
    await checkCompletion('let $0', { only: [] });
    await checkCompletion(withLine('  require when engaged {\n    wire.stress > 0 MPa because "st$0\n  }'), {
      only: [],
    });
  });

  it('offers units of the fitting kind before all others', async () => {
    expect((await labels(inPath('    straight 7 $0')))[0]).toBe('mm');
    expect((await labels(inPath('    bend 20 $0')))[0]).toBe('deg');
    expect((await labels(inPath('    bend 20 deg toward mesial radius 2 $0')))[0]).toBe('mm');
    expect((await labels(withLine('  tube extra tip 3 $0')))[0]).toBe('deg');
    const turned = loop.replace('width = 2 mm)', 'width = 2 mm, lean = 5 deg)');
    const call = turned.replace('vertical(height = 8 mm)', 'vertical(lean = 3 $0)');
    expect((await labels(call))[0]).toBe('deg');
  });

  it('offers the figures of an alloy that it has not yet', async () => {
    await checkCompletion('alloy own {\n  modulus = 180 GPa\n  $0\n}', {
      has: ['poisson', 'yield', 'inner_radius'],
      lacks: ['modulus', 'bend'],
    });
  });

  it('offers sizes of the wire in a shape and its results in conditions', async () => {
    await checkCompletion(inPath('    straight wire.$0'), { has: ['height', 'thickness'], lacks: ['stress'] });
    const condition = await items(withLine('  require when engaged {\n    wire.$0\n  }'));
    expect(condition.find(({ label }) => label === 'stress')).toMatchObject({ detail: 'stress' });
  });

  it('completes a word to its whole form where it begins a line, and only there', async () => {
    const bend = (await items(inPath('    be$0'))).find(({ label }) => label === 'bend');
    expect(bend).toMatchObject({ insertTextFormat: InsertTextFormat.Snippet });
    expect(bend?.insertText).toMatch(/^bend .* toward /);
    const stage = (await items(withLine('  require at $0'))).find(({ label }) => label === 'activation');
    expect(stage?.insertText).toBeUndefined();
  });

  it('has snippets that are right as they stand', async () => {
    const plain = (text: string) =>
      text
        .replace(/\$\{\d+:([^}]*)\}/g, '$1')
        .replace(/"\$0"/g, '"alloys"')
        .replace(/\$0/g, '')
        .replaceAll('\t', '  ');
    for (const [begins, words, around] of [
      ['line', itemWords, (text: string) => text],
      ['line', memberWords, (text: string) => `appliance a {\n${text}\n}`],
      ['step', stepWords, (text: string) => `part a() {\n${text}\n}`],
    ] as const) {
      for (const word of words) {
        const form = wordSnippet(word, begins);
        if (form !== undefined) expect(parse(around(plain(form))).problems, form).toEqual([]);
      }
    }
  });

  it('explains what it offers', async () => {
    const { text, cursor } = readFixture('appliance a {\n  $0\n}');
    const items = provideCompletion(await snapshotOf(text), cursor!);
    for (const { label, documentation } of items) {
      expect(documentation, label).toMatchObject({ kind: 'markdown', value: expect.stringMatching(/\w/) });
    }
  });
});

/** The loop sample with one more line in its path. */
function inPath(line: string): string {
  return loop.replace('    seat canine\n', `${line}\n    seat canine\n`);
}

/** The loop sample with one more member at the end of its appliance. */
function withLine(line: string): string {
  return loop.replace(/\}\n$/, `${line}\n}\n`);
}

async function items(marked: string): Promise<CompletionItem[]> {
  const { text, cursor } = readFixture(marked);
  return provideCompletion(await snapshotOf(text), cursor!);
}

/** In the order in which an editor shows them. */
async function labels(marked: string): Promise<string[]> {
  const sorted = (await items(marked)).sort((left, right) => ((left.sortText ?? '') < (right.sortText ?? '') ? -1 : 1));
  return sorted.map(({ label }) => label);
}

interface Labels {
  readonly has?: readonly string[];
  readonly lacks?: readonly string[];
  readonly only?: readonly string[];
}

async function checkCompletion(marked: string, { has = [], lacks = [], only }: Labels): Promise<void> {
  const found = await labels(marked);
  if (only !== undefined) expect([...found].sort()).toEqual([...only].sort());
  expect(found).toEqual(expect.arrayContaining([...has]));
  for (const label of lacks) expect(found).not.toContain(label);
}
