import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import type { ApplianceItem, Expression, PathItem } from '#grammar/tree';
import { fixtures } from './samples';

/** The tree without spans, so that a test says what it means. */
function bare(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(bare);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).filter(([key, child]) => !key.endsWith('pan') && child !== undefined);
  if (entries.length === 1 && entries[0][0] === 'text') return entries[0][1];
  return Object.fromEntries(entries.map(([key, child]) => [key, bare(child)]));
}

/** An expression, written out with every parenthesis. */
function written(expression: Expression | undefined): string {
  if (expression === undefined) return '?';
  switch (expression.kind) {
    case 'quantity': {
      const { number, unit } = expression;
      const over = unit?.denominator.map(({ text }) => `/${text}`).join('') ?? '';
      return unit === undefined
        ? String(number)
        : `${number} ${unit.numerator.map(({ text }) => text).join('*')}${over}`;
    }
    case 'name':
      return expression.name.text;
    case 'member':
      return expression.path.map(({ text }) => text).join('.');
    case 'unary':
      return `(${expression.operator} ${written(expression.operand)})`;
    case 'binary':
      return `(${written(expression.left)} ${expression.operator} ${written(expression.right)})`;
    case 'within':
      return `(${written(expression.value)} in ${written(expression.range?.low)} .. ${written(expression.range?.high)})`;
    case 'function':
      return `${expression.name.text}(${expression.arguments.map(written).join(', ')})`;
    case 'group':
      return written(expression.inner);
  }
}

function expressionOf(source: string): string {
  const { tree, problems } = parse(`let a = ${source}`);
  expect(problems).toEqual([]);
  const item = tree.items[0];
  return item.kind === 'let' ? written(item.value) : '';
}

function memberOf(line: string): unknown {
  const { tree, problems } = parse(`appliance a {\n${line}\n}`);
  expect(problems).toEqual([]);
  const { members } = tree.items[0] as ApplianceItem;
  expect(members).toHaveLength(1);
  return bare(members[0]);
}

function stepOf(line: string): unknown {
  const { tree, problems } = parse(`part p() {\n${line}\n}`);
  expect(problems).toEqual([]);
  const body = (tree.items[0] as { body: readonly PathItem[] }).body;
  expect(body).toHaveLength(1);
  return bare(body[0]);
}

const quantity = (number: number, ...numerator: string[]) => ({
  kind: 'quantity',
  number,
  ...(numerator.length > 0 ? { unit: { numerator, denominator: [] } } : {}),
});

describe('expressions', () => {
  it.each([
    ['1 + 2 * 3 - 4', '((1 + (2 * 3)) - 4)'],
    ['-2 ^ 2', '(- (2 ^ 2))'],
    ['2 ^ 3 ^ 4', '(2 ^ (3 ^ 4))'],
    ['2 ^ -1', '(2 ^ (- 1))'],
    ['8 / 4 / 2', '((8 / 4) / 2)'],
    ['a or b and not c < d', '(a or (b and (not (c < d))))'],
    ['x in 1 .. 2 + 3 and y', '((x in 1 .. (2 + 3)) and y)'],
    ['min(a, -b) * (c + d)', '(min(a, (- b)) * (c + d))'],
    ['canine.force.distal / wire.stress', '(canine.force.distal / wire.stress)'],
    ['loop.wire.in.not', 'loop.wire.in.not'],
    ['activation.amount >= .5 mm', '(activation.amount >= 0.5 mm)'],
    ['1e-3 + 2E2', '(0.001 + 200)'],
  ])('%s', (source, expected) => expect(expressionOf(source)).toBe(expected));
});

describe('units', () => {
  it.each([
    ['2 N mm', '2 N*mm'],
    ['40 gf mm + 1', '(40 gf*mm + 1)'],
    ['0.4 N/mm', '0.4 N/mm'],
    ['3 N mm / rad', '3 N*mm/rad'],
    ['80 %', '80 %'],
    ['80% * 2', '(80 % * 2)'],
    ['7mm', '7 mm'],
    ['7 furlongs', '7 furlongs'],
    ['6 mm / s2', '(6 mm / s2)'],
    ['6 mm / min(a, b)', '(6 mm / min(a, b))'],
    ['a / mm', '(a / mm)'],
    ['0.017 in', '0.017 in'],
    ['0.017 in + 1 mm', '(0.017 in + 1 mm)'],
    ['2 in 1 .. 4', '(2 in 1 .. 4)'],
    ['2 in low .. high', '(2 in low .. high)'],
    ['2 in (1) .. 4', '(2 in 1 .. 4)'],
    ['2 in width .. 4', '(2 in width .. 4)'],
    ['2 in wire.width .. 4', '(2 in wire.width .. 4)'],
    ['0.02 in in 0.01 in .. 0.03 in', '(0.02 in in 0.01 in .. 0.03 in)'],
  ])('%s', (source, expected) => expect(expressionOf(source)).toBe(expected));

  it('takes no unit from the next line', () => {
    const { tree } = parse('alloy a {\n smallest = 1.5\n mm = 3\n}');
    expect(bare(tree.items[0])).toMatchObject({ properties: [{ name: 'smallest' }, { name: 'mm' }] });
  });
});

describe('names', () => {
  it.each([
    'length',
    'width',
    'slot',
    'section',
    'at',
    'tip',
    'found',
    'source',
    'play',
    'friction',
    'force',
    'rest',
    'sliding',
    'x',
    'step',
    'over',
    'mesial',
    'mm',
    'min',
    'größe',
  ])('%s stays free', (name) => {
    const text = `let ${name} = 1 mm
part p(${name} = 7 mm in 4 mm .. 12 mm, b = 1) {
  let c = ${name} + loop.${name}
  straight ${name}
  bend (${name} / 2) toward mesial
  p(${name} = ${name}, b = 2)
}
appliance a {
  param ${name} = 3 mm in 1 mm .. 9 mm
  require along activation { ${name} > 2 mm }
}`;
    expect(parse(text).problems).toEqual([]);
  });

  it('reserved words are no names, and say so', () => {
    expect(parse('let bend = 3 mm').problems.map(({ message }) => message)).toEqual([
      '`bend` is a word of the language and cannot be a name. Choose another, such as `bend_1`.',
    ]);
  });
});

describe('steps', () => {
  it.each([
    ['straight 8 mm', { kind: 'straight', length: quantity(8, 'mm') }],
    [
      'bend 90 deg toward gingival',
      { kind: 'bend', preactivation: false, angle: quantity(90, 'deg'), direction: 'gingival' },
    ],
    [
      'preactivate 8 deg toward lingual radius 1 mm',
      { kind: 'bend', preactivation: true, angle: quantity(8, 'deg'), direction: 'lingual', radius: quantity(1, 'mm') },
    ],
    [
      'bend 90 deg toward gingival radius 1 mm back from 105 deg',
      {
        kind: 'bend',
        preactivation: false,
        angle: quantity(90, 'deg'),
        direction: 'gingival',
        radius: quantity(1, 'mm'),
        backFrom: quantity(105, 'deg'),
      },
    ],
    ['twist 10 deg over 3 mm', { kind: 'twist', angle: quantity(10, 'deg'), over: quantity(3, 'mm') }],
    [
      'helix 1.5 turns diameter 3 mm toward gingival pitch 0.5 mm',
      {
        kind: 'helix',
        turns: quantity(1.5),
        diameter: quantity(3, 'mm'),
        direction: 'gingival',
        pitch: quantity(0.5, 'mm'),
      },
    ],
    [
      'helix turns turn diameter diameter toward occlusal',
      {
        kind: 'helix',
        turns: { kind: 'name', name: 'turns' },
        diameter: { kind: 'name', name: 'diameter' },
        direction: 'occlusal',
      },
    ],
    ['seat molar', { kind: 'seat', attachment: 'molar' }],
    ['mark centre', { kind: 'mark', name: 'centre' }],
    ['foot', { kind: 'foot' }],
    ['loop()', { kind: 'call', flip: false, mirror: false, part: 'loop', arguments: [] }],
    [
      'flip mirror loop(height = 8 mm,) as second',
      {
        kind: 'call',
        flip: true,
        mirror: true,
        part: 'loop',
        arguments: [{ name: 'height', value: quantity(8, 'mm') }],
        label: 'second',
      },
    ],
    ['repeat 3 { foot }', { kind: 'repeat', count: quantity(3), body: [{ kind: 'foot' }] }],
  ])('%s', (line, expected) => expect(stepOf(line)).toEqual(expected));
});

describe('lines of an appliance', () => {
  it.each([
    [
      'wire 0.017 in x 0.025 in ribbonwise corner 0.04 mm of steel',
      {
        kind: 'wire',
        size: {
          kind: 'rectangle',
          height: quantity(0.017, 'in'),
          width: quantity(0.025, 'in'),
          ribbonwise: true,
          corner: quantity(0.04, 'mm'),
        },
        alloy: 'steel',
        stressRelieved: false,
      },
    ],
    [
      'wire round 0.016 in of steel',
      { kind: 'wire', size: { kind: 'round', diameter: quantity(0.016, 'in') }, alloy: 'steel', stressRelieved: false },
    ],
    [
      'wire round 0.016 in of steel stress relieved',
      { kind: 'wire', size: { kind: 'round', diameter: quantity(0.016, 'in') }, alloy: 'steel', stressRelieved: true },
    ],
    [
      'wire w017x025 of steel',
      { kind: 'wire', size: { kind: 'named', name: 'w017x025' }, alloy: 'steel', stressRelieved: false },
    ],
    [
      'wire h x w of steel',
      {
        kind: 'wire',
        size: {
          kind: 'rectangle',
          height: { kind: 'name', name: 'h' },
          width: { kind: 'name', name: 'w' },
          ribbonwise: false,
        },
        alloy: 'steel',
        stressRelieved: false,
      },
    ],
    [
      'param turns = 2 in 1 .. 4',
      { kind: 'parameter', name: 'turns', value: quantity(2), range: { low: quantity(1), high: quantity(4) } },
    ],
    [
      'tube molar slot 0.022 in x 0.028 in, length 4 mm, at 23 mm mesial 1 mm gingival tip 5 deg, tied',
      {
        kind: 'attachment',
        fitting: 'tube',
        name: 'molar',
        clauses: [
          { kind: 'slot', size: { kind: 'rectangle', height: quantity(0.022, 'in'), depth: quantity(0.028, 'in') } },
          { kind: 'length', keyword: 'length', value: quantity(4, 'mm') },
          {
            kind: 'at',
            offsets: [
              { value: quantity(23, 'mm'), direction: 'mesial' },
              { value: quantity(1, 'mm'), direction: 'gingival' },
            ],
          },
          { kind: 'tip', value: quantity(5, 'deg') },
          { kind: 'tied' },
        ],
      },
    ],
    [
      'activation move canine distal 0 mm .. 3 mm step 0.5 mm',
      {
        kind: 'activation',
        motion: 'move',
        attachment: 'canine',
        direction: 'distal',
        range: { low: quantity(0, 'mm'), high: quantity(3, 'mm') },
        step: quantity(0.5, 'mm'),
      },
    ],
    [
      'activation pull through molar 0 mm .. 3 mm',
      {
        kind: 'activation',
        motion: 'pull',
        attachment: 'molar',
        range: { low: quantity(0, 'mm'), high: quantity(3, 'mm') },
      },
    ],
    [
      'prefer at activation 1.5 mm { a because "b" c }',
      {
        kind: 'require',
        severity: 'prefer',
        stage: 'at',
        activation: quantity(1.5, 'mm'),
        conditions: [
          { test: { kind: 'name', name: 'a' }, because: { value: 'b' } },
          { test: { kind: 'name', name: 'c' } },
        ],
      },
    ],
    ['require along activation {}', { kind: 'require', severity: 'require', stage: 'along', conditions: [] }],
    ['require at neutral {}', { kind: 'require', severity: 'require', stage: 'neutral', conditions: [] }],
    ['require when engaged {}', { kind: 'require', severity: 'require', stage: 'engaged', conditions: [] }],
  ])('%s', (line, expected) => expect(memberOf(line)).toEqual(expected));
});

describe('items', () => {
  it('reads an alloy with ranges and sources, with commas or without', () => {
    const { tree, problems } = parse(
      'alloy a { modulus = 66 GPa in 62 GPa .. 69 GPa, source found "b", yield = 1 GPa source practice density = 5 }',
    );
    expect(problems).toEqual([]);
    expect(bare(tree.items[0])).toEqual({
      kind: 'alloy',
      name: 'a',
      properties: [
        {
          kind: 'property',
          name: 'modulus',
          value: quantity(66, 'GPa'),
          range: { low: quantity(62, 'GPa'), high: quantity(69, 'GPa') },
          source: { state: 'found', reference: { value: 'b' } },
        },
        { kind: 'property', name: 'yield', value: quantity(1, 'GPa'), source: { state: 'practice' } },
        { kind: 'property', name: 'density', value: quantity(5) },
      ],
    });
  });

  it('reads sections and slots', () => {
    const { tree, problems } = parse('section a = round 0.4 mm source computed\nslot b = c\nsection d = a');
    expect(problems).toEqual([]);
    expect(bare(tree.items)).toEqual([
      {
        kind: 'section',
        name: 'a',
        size: { kind: 'round', diameter: quantity(0.4, 'mm') },
        source: { state: 'computed' },
      },
      { kind: 'slot', name: 'b', size: { kind: 'named', name: 'c' } },
      { kind: 'section', name: 'd', size: { kind: 'named', name: 'a' } },
    ]);
  });
});

describe('doc comments', () => {
  it('belong to what follows on the next line', () => {
    const { tree } = parse(`/// not this one

// nor this
/// One.
///   Two.
let a = 1 /// a comment at the end of a line
let b = 2
//// four slashes
let c = 3
/// Outer.
alloy d {
  /// Inner.
  e = 1
}`);
    const docs = tree.items.map((item) => ('doc' in item ? item.doc : undefined));
    expect(docs).toEqual(['One.\n  Two.', undefined, undefined, 'Outer.']);
    const alloy = tree.items[3];
    expect(alloy.kind === 'alloy' && alloy.properties[0].doc).toBe('Inner.');
  });

  it('are read with CRLF line ends and after a byte order mark', () => {
    const { tree, problems } = parse('\uFEFF/// One.\r\n/// Two.\r\nlet a = 1\r\n');
    expect(problems).toEqual([]);
    expect(tree.items[0]).toMatchObject({ doc: 'One.\nTwo.', span: { start: 21, end: 30 } });
  });
});

it('counts astral characters as two, as editors do', () => {
  const text = '// 😀\nlet a = "😀" // 😀\nlet b = 1';
  const { tree, problems } = parse(text);
  expect(problems).toHaveLength(1);
  expect(tree.items[1].span).toEqual({ start: text.indexOf('let b'), end: text.length });
});

it('prints how long 2,000 lines take', () => {
  const { text } = fixtures.find(({ name }) => name.endsWith('closing-section.spring'))!;
  const long = text.repeat(Math.ceil(2000 / text.split('\n').length));
  const times = Array.from({ length: 30 }, () => {
    const start = performance.now();
    expect(parse(long).problems).toEqual([]);
    return performance.now() - start;
  }).sort((a, b) => a - b);
  console.log(
    `parse, ${long.split('\n').length} lines: median ${times[15].toFixed(1)} ms, best ${times[0].toFixed(1)} ms`,
  );
});
