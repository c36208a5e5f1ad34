import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ebnf } from '#grammar/ebnf';
import { parse } from '#grammar/parser';
import { format } from '#grammar/printer';
import { directionWords, functionNames, keywords, reservedWords, sourceStates, unitWords } from '#grammar/words';

const path = join(import.meta.dirname, '../../grammar/reference.md');
const grammarBlock = /(```ebnf\n)([\s\S]*?)(```)/;

if (process.env.UPDATE === '1') {
  writeFileSync(
    path,
    readFileSync(path, 'utf8').replace(grammarBlock, (_, open, __, close) => `${open}${ebnf()}\n${close}`),
  );
}

const reference = readFileSync(path, 'utf8');
const examples = [...reference.matchAll(/```spring(?: (\w+))?\n([\s\S]*?)```/g)].map(([, place, text]) => ({
  text: asFile(text, place),
  title: text.split('\n')[0],
}));

/** An example as a file: pieces of a path or of an appliance are put into one. */
function asFile(text: string, place: string | undefined): string {
  if (place === undefined) return text;
  const indented = text.replace(/^(?=.)/gm, '  ');
  return `${place === 'path' ? 'part example()' : 'appliance example'} {\n${indented}}\n`;
}

describe('reference.md', () => {
  it('has examples', () => expect(examples.length).toBeGreaterThan(10));

  it.each(examples)('shows a sound and well laid out example: $title', ({ text }) => {
    expect(parse(text).problems).toEqual([]);
    expect(format(text)).toBe(text);
  });

  it('gives the grammar as the parser has it (UPDATE=1 npx vitest run tests/grammar/reference.test.ts rewrites it)', () => {
    expect(grammarBlock.exec(reference)?.[2]).toBe(`${ebnf()}\n`);
  });

  it('names every word of the language', () => {
    const prose = reference.replace(grammarBlock, '');
    const words = [
      ...keywords,
      ...directionWords,
      ...functionNames,
      ...sourceStates,
      ...Object.values(unitWords).flat(),
    ];
    const quoted = new Set(
      [...prose.matchAll(/`[^`\n]+`|```spring[\s\S]*?```/g)].flatMap(([code]) => code.match(/\w+|%/g)),
    );
    expect(words.filter((word) => !quoted.has(word))).toEqual([]);
  });

  it('lists the reserved words as they are', () => {
    const listed = /cannot be names: ([\s\S]*?)\./.exec(reference)![1].match(/\w+/g)!;
    expect(new Set(listed)).toEqual(new Set(reservedWords));
  });
});
