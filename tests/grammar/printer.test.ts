import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { format } from '#grammar/printer';
import { tokenize } from '#grammar/tokens';
import { fixtures } from './samples';

/** Tokens and comments in order, each with its type: units stay units. */
function pieces(text: string): string[] {
  const { tokens, comments } = tokenize(text);
  return [...tokens, ...comments]
    .sort((a, b) => a.startOffset - b.startOffset)
    .map(({ image, tokenType }) => `${tokenType.name} ${image.trimEnd()}`);
}

function check(before: string, after: string) {
  expect(parse(before).problems).toEqual([]);
  expect(format(before)).toBe(after);
  expect(format(after)).toBe(after);
  expect(pieces(after)).toEqual(pieces(before));
}

describe('format', () => {
  it('puts one statement on a line and two spaces before each level', () => {
    check(
      'use "alloys" appliance a{wire round 0.4 mm of steel path running mesial{straight 8 mm seat molar repeat 2{straight 1 mm foot}}}',
      `use "alloys"
appliance a {
  wire round 0.4 mm of steel
  path running mesial {
    straight 8 mm
    seat molar
    repeat 2 {
      straight 1 mm
      foot
    }
  }
}
`,
    );
  });

  it('spaces words, operators, units, ranges, signs and calls', () => {
    check(
      'let a=-2*( 3mm+b )/max( 1mm ,c )^2\nlet b=0.4N / mm+80%\nlet c=not(a<b)and d in -1 ..2\nlet d = 0.017in',
      `let a = -2 * (3 mm + b) / max(1 mm, c) ^ 2
let b = 0.4 N/mm + 80 %
let c = not (a < b) and d in -1 .. 2
let d = 0.017 in
`,
    );
  });

  it('keeps line breaks inside a statement, one level deeper', () => {
    check(
      `part loop(
height = 7 mm,
      width = 2 mm
)
{
  straight height
   + width
}
appliance a {
tube molar
slot 0.022 in x 0.028 in
, length 4 mm
}
`,
      `part loop(
  height = 7 mm,
  width = 2 mm
) {
  straight height
    + width
}
appliance a {
  tube molar
    slot 0.022 in x 0.028 in, length 4 mm
}
`,
    );
  });

  it('keeps a block on its line where it holds one statement', () => {
    check(
      'appliance a {\nrequire along activation {wire.stress<1 MPa}\nprefer at neutral { }\nrequire at neutral { a>1 N\n b>1 N }\n}',
      `appliance a {
  require along activation { wire.stress < 1 MPa }
  prefer at neutral {}
  require at neutral {
    a > 1 N
    b > 1 N
  }
}
`,
    );
  });

  it('keeps comments at their tokens, and neighbouring ones in one column', () => {
    check(
      `// top


/// About a.
let a = 1   // one
let long_name = 2 // two

// alone
appliance b { // opens
      // first
  wire w // size
  of steel


  // last

} // closes
// end`,
      `// top

/// About a.
let a = 1         // one
let long_name = 2 // two

// alone
appliance b { // opens
  // first
  wire w // size
    of steel

  // last
} // closes
// end
`,
    );
  });

  it('keeps the kind of line break and a byte order mark', () => {
    expect(format('\uFEFFlet a=1\r\n\r\n\r\nlet b=2')).toBe('\uFEFFlet a = 1\r\n\r\nlet b = 2\r\n');
  });

  it('leaves a text with syntax problems and an empty one as they are', () => {
    expect(format('let   a =\nlet b=2')).toBe('let   a =\nlet b=2');
    expect(format('')).toBe('');
    expect(format('\n \n')).toBe('');
  });
});

describe.each(fixtures)('$name', ({ text }) => {
  it('is laid out as the formatter lays it out', () => check(text, text));

  it('keeps every token and comment however the blanks stand', () => {
    // Breaks are only added where no meaning hangs on the line: before the first token of a line, and at its end.
    const blank = fc.constantFrom('\n', '\n\n\n', '\r\n', ' // note\n', '\n/// doc\n', '\t\n  ');
    fc.assert(
      fc.property(fc.array(blank, { minLength: 1, maxLength: 8 }), fc.nat(3), (blanks, indent) => {
        const disturbed = text
          .split('\n')
          .map((line, i) => ' '.repeat((i * indent) % 7) + line.trim().replace(/ +/g, ' '.repeat(1 + (i % 3))))
          .reduce((all, line, i) => all + blanks[i % blanks.length] + line, '');
        const formatted = format(disturbed);
        expect(pieces(formatted)).toEqual(pieces(disturbed));
        expect(format(formatted)).toBe(formatted);
      }),
      { seed: 5, numRuns: 60 },
    );
  });

  it('keeps every token and comment of every mutation', () => {
    const cut = fc.record({ at: fc.nat(text.length), remove: fc.nat(40) });
    let changed = 0;
    fc.assert(
      fc.property(fc.array(cut, { minLength: 1, maxLength: 2 }), (cuts) => {
        const mutated = cuts.reduce((now, { at, remove }) => now.slice(0, at) + now.slice(at + remove), text);
        const formatted = format(mutated);
        if (formatted !== mutated) changed++;
        expect(pieces(formatted)).toEqual(pieces(mutated));
        expect(format(formatted)).toBe(formatted);
      }),
      { seed: 6, numRuns: 400 },
    );
    expect(changed, 'mutations that left something to format').toBeGreaterThan(0);
  });
});
