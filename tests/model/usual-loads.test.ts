import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { UNITS } from '#core/units/unit';
import { USUAL_LOADS } from '#model/usual-loads';
import { checkProblems, problemsOf } from './fixture';

const example = (code: string) =>
  readFileSync(join(import.meta.dirname, '../../examples/errors', `${code}.spring`), 'utf8');

const cantilever = (angle: number, alloy: string) => `use "alloys"
appliance tip_back {
  wire 0.017 in x 0.025 in of ${alloy}
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate ${angle} deg toward gingival
    straight 22 mm
    seat incisors
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook incisors
}
`;

describe('loads beyond what is usual', () => {
  it('are the figures of handbook 6.3 and 10', () => {
    const gf = UNITS.get('gf')!.factor;
    expect(
      USUAL_LOADS.map(({ code, upper, state }) => [code, upper.value / (code === 'force' ? gf : 1), state]),
    ).toEqual([
      ['force', 200, 'memory'],
      ['force', 350, 'practice'],
      ['moment', 30, 'practice'],
    ]);
  });

  it('are told at the attachment, with amount, limit and source', () => {
    const text = example('force-beyond-usual');
    const found = problemsOf(text, { mechanics: true }).filter(({ code }) => code === 'force-beyond-usual');
    expect(found.map(({ span }) => text.slice(span.start, span.end))).toEqual(['premolar', 'canine']);
    const [problem] = found;
    expect(problem.severity).toBe('warning');
    expect(problem.message).toMatch(/more than the 350 gf .*common practice: one tooth takes 70 to 150 gf bodily/);
  });

  it('go by what the wire does: intrusion is held to less than a pull along the arch', () => {
    const codes = (text: string) =>
      problemsOf(text, { mechanics: true })
        .filter(({ code }) => code.endsWith('beyond-usual'))
        .map(({ message }) => message);
    expect(codes(cantilever(8, 'beta_titanium'))).toEqual([]);
    expect(codes(example('moment-beyond-usual'))).toEqual([
      expect.stringMatching(/^molar is turned by /),
      expect.stringMatching(/^canine gets .* at most for intrusion/),
    ]);
  });
});

describe('parts that are not used', () => {
  const part = 'part leg(height = 3 mm) { straight height }\n';
  const withAppliance = (call: string) => cantilever(8, 'beta_titanium').replace('straight 22 mm', call);

  it('are told in a file with an appliance, and not in a file of parts', () => {
    checkProblems(part);
    checkProblems(`${withAppliance('straight 22 mm')}part leg(height = 3 mm) { straight height }
//   ^^^ information unused-part: The part "leg" is not used in this file.
`);
    checkProblems(withAppliance('leg(height = 22 mm)') + part);
  });

  it('count as used inside other parts, not inside themselves', () => {
    const nested = 'part two() { leg() leg() }\n';
    checkProblems(withAppliance('two() straight 16 mm') + part + nested);
    const found = problemsOf(`${withAppliance('straight 22 mm')}part own() { own() }`).map(({ code }) => code);
    expect(found).toContain('unused-part');
  });
});

describe('parallel legs', () => {
  it('are told where the working activation goes beyond', () => {
    const text = example('past-parallel-legs');
    const found = (file: string) =>
      problemsOf(file, { mechanics: true }).filter(({ code }) => code === 'past-parallel-legs');
    const [problem] = found(text);
    expect(text.slice(problem.span.start)).toMatch(/^open_loop/);
    expect(problem.message).toMatch(
      /^The legs of loop are parallel at 0\.\d+ mm; the working activation of 1.75 mm goes beyond\.$/,
    );
    expect(found(text.replace('activation 1.75 mm', 'activation 0.25 mm'))).toEqual([]);
  });
});
