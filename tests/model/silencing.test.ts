import { describe, expect, it } from 'vitest';
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { adjustable, applySeverities, stopsComputing } from '#model/severities';
import { silence } from '#model/silencing';
import { createWorkspace } from '#workspace/workspace';
import { problemsOf } from './fixture';

const file = (comment: string, member = 'param spare = 3 mm') => `use "alloys"
appliance v_bend {
  wire 0.017 in x 0.025 in of beta_titanium
${comment}
  ${member}
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate 10 deg toward gingival
    straight 9 mm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
}
`;

const heard = (text: string) => {
  const { problems, silenced } = silence(text, problemsOf(text));
  return {
    shown: problems.map(({ severity, code, span }) => `${severity} ${code}: ${text.slice(span.start, span.end)}`),
    messages: problems.map(({ message, hint }) => `${message} ${hint ?? ''}`),
    silenced: silenced.map(({ problem, reason }) => `${problem.code}: ${reason}`),
    problems,
  };
};

describe('// ignore-next-line', () => {
  it('silences one finding of its id on the next line, with its reason', () => {
    const { shown, silenced } = heard(file('  // ignore-next-line unused-parameter: kept for the next visit'));
    expect(shown).toEqual([]);
    expect(silenced).toEqual(['unused-parameter: kept for the next visit']);
  });

  it('silences one finding only; comments above each other speak of the same line', () => {
    const two = 'param spare = 3 mm param rest = 2 mm';
    const comment = '  // ignore-next-line unused-parameter: kept';
    expect(heard(file(comment, two)).shown).toEqual(['warning unused-parameter: rest']);
    expect(heard(file(`${comment}\n${comment}`, two)).silenced).toHaveLength(2);
  });

  it('wants a reason', () => {
    const { shown, messages } = heard(file('  // ignore-next-line unused-parameter'));
    expect(shown).toEqual([
      'warning unused-parameter: spare',
      'error ignore-without-reason: // ignore-next-line unused-parameter',
    ]);
    expect(messages[1]).toContain('gives no reason');
  });

  it('names the nearest known id for one that it does not know, and mends it', () => {
    const { problems, shown } = heard(file('  // ignore-next-line unused-paramter: kept'));
    expect(shown).toContain('error unknown-ignore: unused-paramter');
    const [fix] = problems.find(({ code }) => code === 'unknown-ignore')?.fixes ?? [];
    expect(fix.edits[0].text).toBe('unused-parameter');
  });

  it('is reported where there is nothing to silence, but not while the wire is not computed', () => {
    const comment = '  // ignore-next-line stress-past-yield: thin wire';
    expect(heard(file(comment, 'let used = 3 mm')).shown).toEqual([`warning unused-ignore: ${comment.trim()}`]);
    expect(heard(file(comment, 'let used = 3 mn')).shown).toEqual(['error unknown-unit: mn']);
  });

  it('cannot silence an error that stops the computation', () => {
    const { messages, silenced } = heard(file('  // ignore-next-line unknown-unit: it is one', 'let used = 3 mn'));
    expect(messages).toHaveLength(1);
    expect(messages[0]).toContain('cannot be silenced');
    expect(silenced).toEqual([]);
  });

  it('is no comment inside a text, and reads every kind of line break', () => {
    const text = file(
      '  let used = 3 mm',
      'prefer when engaged { molar.force.total >= 0 N because "// ignore-next-line x" }',
    );
    expect(heard(text).shown).toEqual([]);
    const crlf = file('  // ignore-next-line unused-parameter: kept').replaceAll('\n', '\r\n');
    expect(heard(crlf).silenced).toEqual(['unused-parameter: kept']);
  });
});

describe('severities', () => {
  const text = file('  let used = 3 mm');
  const problems = problemsOf(text);

  it('change what is shown, and count what is switched off', () => {
    expect(problems.map(({ code, severity }) => [code, severity])).toEqual([['unused-parameter', 'warning']]);
    const all = { problems, silenced: [] };
    expect(applySeverities(all, { 'unused-parameter': 'hint' }).problems[0].severity).toBe('hint');
    const off = applySeverities(all, { 'unused-parameter': 'off' });
    expect(off.problems).toEqual([]);
    expect(off.silenced).toEqual([{ problem: problems[0], reason: 'switched off by the severity setting' }]);
  });

  it('leave an error that stops the computation an error, and say so', () => {
    const broken = problemsOf(file('  let used = 3 mn', 'let rest = 3 mm'));
    const { problems, silenced } = applySeverities({ problems: broken, silenced: [] }, { 'unknown-unit': 'off' });
    expect(silenced).toEqual([]);
    expect(problems[0].severity).toBe('error');
    expect(problems[0].hint).toContain('cannot be set to "off"');
  });

  it('can be set for everything but such errors', () => {
    expect(adjustable('requirement-missed')).toBe(true);
    expect(adjustable('stress-past-yield')).toBe(true);
    for (const code of ['syntax', 'internal-error', 'unit-mismatch', 'not-converged'])
      expect(adjustable(code)).toBe(false);
    for (const { code, severity, judgement } of DIAGNOSTICS.values()) {
      expect(adjustable(code)).toBe(severity !== 'error' || judgement === true);
      if (judgement) expect(severity).toBe('error');
    }
    expect(problems.some(stopsComputing)).toBe(false);
  });
});

describe('the snapshot', () => {
  it('keeps what is silenced apart, and follows a change of the settings', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open('file:///a.spring', file('  // ignore-next-line unused-parameter: kept'), 1);
    const first = await workspace.snapshot('file:///a.spring');
    expect(first?.problems.filter(({ code }) => code === 'unused-parameter')).toEqual([]);
    expect(first?.silenced.map(({ reason }) => reason)).toEqual(['kept']);
    workspace.open('file:///a.spring', file('  let used = 3 mm'), 2);
    const severity = async (level: 'off' | 'error') =>
      (await workspace.snapshot('file:///a.spring', undefined, { 'unused-parameter': level }))?.problems
        .filter(({ code }) => code === 'unused-parameter')
        .map((problem) => problem.severity);
    expect(await severity('off')).toEqual([]);
    expect(await severity('error')).toEqual(['error']);
  });
});
