import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FileParser } from '#grammar/rules/file';
import { fixtures } from './samples';
import { flatten, type Node, nodesOf, spanFault } from './tree-walk';

const parser = new FileParser();

/** What must hold for any text at all. */
function checkParse(text: string) {
  const { tree, problems } = parser.parse(text);
  expect(
    parser.errors.map(({ message }) => message),
    'chevrotain raised a problem of its own',
  ).toEqual([]);
  const whole = { start: 0, end: text.length };
  expect(spanFault(nodesOf(tree), whole)).toBeUndefined();
  expect(spanFault(nodesOf(problems), whole)).toBeUndefined();
  for (const { message } of problems) expect(message).toMatch(/^[A-Z`].*[.]$/s);
  return { tree, problems };
}

/** Kinds of node that stand on lines of their own. */
const lineKinds = new Set(
  'use let alloy property section slot part parameter appliance wire path attachment activation require'
    .concat(' straight bend twist helix seat mark foot call repeat')
    .split(' '),
);

const describeNode = ({ kind, span }: Node) => `${kind} ${span.start}..${span.end}`;

describe.each(fixtures)('$name', ({ text }) => {
  it('has no problems', () => {
    expect(checkParse(text).problems).toEqual([]);
  });

  it('shows, at every prefix, every item, line and step that is complete by then', () => {
    const complete = flatten(nodesOf(parser.parse(text).tree)).filter((node) => lineKinds.has(node.kind ?? ''));
    for (let cut = 0; cut <= text.length; cut++) {
      const { tree } = checkParse(text.slice(0, cut));
      // The rest of a line adds nothing but expressions.
      if (!/\s/.test(text[cut - 1] ?? ' ')) continue;
      const seen = new Set(flatten(nodesOf(tree)).map((node) => `${node.kind} ${node.span.start}`));
      const lost = complete.filter((node) => node.span.end < cut && !seen.has(`${node.kind} ${node.span.start}`));
      expect(lost.map(describeNode), `after ${JSON.stringify(text.slice(Math.max(0, cut - 40), cut))}`).toEqual([]);
    }
  });

  it('parses every mutation of it', () => {
    const piece = fc.oneof(
      fc.constantFrom(
        '{',
        '}',
        '(',
        ')',
        ',',
        '=',
        '..',
        '.',
        '"',
        '/',
        '///',
        '\n',
        ' ',
        '-',
        '%',
        '😀',
        '\u0000',
        '\uFEFF',
      ),
      fc.constantFrom(
        'in',
        'x',
        'let',
        'part',
        'slot',
        'bend',
        'tube',
        'not',
        'wire',
        'require',
        'at',
        'repeat',
        '3',
        'mm',
      ),
    );
    const mutation = fc.array(
      fc.record({ at: fc.nat(text.length), remove: fc.nat(30), insert: fc.array(piece, { maxLength: 4 }) }),
      { minLength: 1, maxLength: 5 },
    );
    fc.assert(
      fc.property(mutation, (edits) => {
        let mutated = text;
        for (const { at, remove, insert } of edits) {
          mutated = mutated.slice(0, at) + insert.join('') + mutated.slice(at + remove);
        }
        checkParse(mutated);
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it('keeps every other line where one line is half typed', () => {
    const lines = text.split('\n');
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i];
      // A line that opens or closes something carries its neighbours with it.
      if (
        /[{}()"]/.test(line) ||
        !/^ *(?:straight|bend|preactivate|twist|helix|seat|mark|param|let|wire|activation|use)\b/.test(line)
      )
        continue;
      const before = flatten(nodesOf(parser.parse(text).tree)).filter((node) => lineKinds.has(node.kind ?? ''));
      const start = lines.slice(0, i).join('\n').length + (i > 0 ? 1 : 0);
      for (let keep = line.search(/\w\b/) + 1; keep < line.length; keep++) {
        const shift = keep - line.length;
        const edited = [...lines.slice(0, i), line.slice(0, keep), ...lines.slice(i + 1)].join('\n');
        const seen = new Set(
          flatten(nodesOf(checkParse(edited).tree)).map((node) => `${node.kind} ${node.span.start}`),
        );
        const lost = before.filter(
          ({ kind, span }) =>
            (span.start < start || span.start > start + line.length) &&
            !seen.has(`${kind} ${span.start < start ? span.start : span.start + shift}`),
        );
        expect(lost.map(describeNode), edited.slice(start, start + 80)).toEqual([]);
      }
    }
  });
});

describe('any text', () => {
  it('never throws on characters of the language in any order', () => {
    const words = fc.constantFrom(
      ...'use let alloy section slot part appliance wire of round ribbonwise corner param in path running straight bend toward radius twist over helix turns diameter pitch seat mark foot flip mirror as repeat tube hook at moved tip tied activation pull through move step require along neutral when because source mesial gingival name 3 .5 1e3 mm N gf % " "a" ( ) { } = == < .. . , + - * / ^ // /// \n not and or x min'.split(
        ' ',
      ),
    );
    fc.assert(
      fc.property(fc.array(words, { maxLength: 60 }), fc.constantFrom(' ', '\n', ''), (parts, glue) => {
        checkParse(parts.join(glue));
      }),
      { seed: 3, numRuns: 1500 },
    );
  });

  it('never throws on characters of any kind', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => void checkParse(text)),
      { seed: 4, numRuns: 500 },
    );
  });

  it.each(['(', '-', 'not ', '2 ^ ', 'min(', 'repeat 3 {', '1 + ', '1 * ', 'a and ', '"', '{', '}', '///\n', 'a.'])(
    'lives through 50,000 times %j',
    (piece) => {
      checkParse(`let a = ${piece.repeat(50_000)}`);
      checkParse(`appliance a { path running mesial { ${piece.repeat(50_000)}`);
    },
  );
});
