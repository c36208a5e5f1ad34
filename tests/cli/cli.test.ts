import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AnalyzeReport } from '#report/schema';
import { buildCommand, type Command } from './command';

let command: Command;
const run = (...args: string[]) => command.run(...args);

const root = resolve(import.meta.dirname, '../..');
const validate = new Ajv2020({ strict: true }).compile(
  JSON.parse(readFileSync(join(root, 'server/report.schema.json'), 'utf8')),
);

/** A wire with one bend in a tube and on a hook (one couple): quick to solve, with a force system that is not zero. */
const tipBack = (name: string, requirement: string) => `use "alloys"
appliance ${name} {
  wire 0.017 in x 0.025 in of beta_titanium
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
  ${requirement}
}
`;

const met = 'require when engaged { molar.moment.crown_distal >= 1 N mm }';
const missed = 'require when engaged { molar.moment.crown_distal >= 10 N }';
const outOfReach = 'require when engaged { molar.moment.crown_distal >= 1000 N mm because "it tips the molar back" }';
const preferred = 'prefer when engaged { molar.moment.crown_distal >= 1000 N mm }';

beforeAll(async () => {
  command = await buildCommand();
  command.write('good/b.spring', tipBack('second', met));
  command.write('good/a.spring', tipBack('first', met));
  command.write('good/deep/er/c.spring', tipBack('third', met));
  command.write('missed.spring', tipBack('weak', outOfReach));
  command.write('preferred.spring', tipBack('soft', preferred));
  command.write('wrong-unit.spring', tipBack('wrong', missed));
  command.write('half-typed.spring', tipBack('half', met).slice(0, 160));
  command.write('nothing/readme.txt', 'no springs here');
});

afterAll(() => command.remove());

describe('--plan', () => {
  it('adds the bending plan to text and JSON, and only then', () => {
    expect(run('analyze', 'good/a.spring').out).not.toContain('Bending plan');
    expect(run('analyze', '--plan', 'good/a.spring').out).toMatch(/Bending plan\n +Cut 50\.\d+ mm/);
    const { out } = run('analyze', '--plan', '--format', 'json', 'good/a.spring');
    const report: AnalyzeReport = JSON.parse(out);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.files[0].appliances[0].plan?.bends).toMatchObject([{ preactivation: true, angle: 10 }]);
  });
});

describe('findings that are set aside', () => {
  const spare = (comment: string) =>
    tipBack('spare', met).replace('  path running', `${comment}  param spare = 3 mm\n  path running`);

  it('are counted as silenced in text and JSON, with the reason', () => {
    command.write('silenced.spring', spare('  // ignore-next-line unused-parameter: kept for the next visit\n'));
    const { code, out } = run('check', 'silenced.spring');
    expect(code).toBe(0);
    expect(out).toContain('silenced.spring:5:9: silenced (kept for the next visit): The parameter "spare" is not used');
    expect(out).toContain('0 errors; 0 warnings; 1 silenced');
    const report = JSON.parse(run('analyze', '--format', 'json', 'silenced.spring').out) as AnalyzeReport;
    expect(validate(report)).toBe(true);
    expect(report.summary.silenced).toBe(1);
    expect(report.files[0].problems).toEqual([]);
    expect(report.files[0].silenced[0]).toMatchObject({
      code: 'unused-parameter',
      line: 5,
      reason: 'kept for the next visit',
    });
  });

  it('have the severity asked for', () => {
    command.write('spare.spring', spare(''));
    expect(run('check', 'spare.spring').out).toContain('1 warning');
    const error = run('check', '--severity', 'unused-parameter=error', 'spare.spring');
    expect(error.code).toBe(1);
    expect(error.out).toContain('spare.spring:4:9: error: The parameter');
    expect(run('check', '--severity', 'unused-parameter=off', 'spare.spring').out).toContain('1 silenced');
  });

  it('are named rightly, and are none that stop the computation', () => {
    const misspelt = run('check', '--severity', 'unused-paramter=off', 'spare.spring');
    expect(misspelt.code).toBe(2);
    expect(misspelt.err).toContain('Did you mean "unused-parameter"?');
    expect(run('check', '--severity', 'unit-mismatch=off', 'spare.spring').err).toContain('stops the computation');
    expect(run('check', '--severity', 'unused-parameter=mute', 'spare.spring').err).toContain('error, warning');
    expect(run('check', '--severity', 'unused-parameter', 'spare.spring').code).toBe(2);
  });
});

describe('usage', () => {
  it('prints version and help and is content', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
    expect(run('--version')).toEqual({ code: 0, out: `${version}\n`, err: '' });
    const help = run('analyze', '--help');
    expect(help.code).toBe(0);
    for (const word of ['--format', '--units', '--bending-only', '--bands', 'Exit codes'])
      expect(help.out).toContain(word);
    expect(run('--help').out).toContain('check');
  });

  it.each([
    [['check', '--loud', 'good'], /unknown option '--loud'/],
    [['check', '--format', 'yaml', 'good'], /'yaml' is invalid/],
    [['check', '--bands', 'good'], /unknown option '--bands'/],
    [['mend', 'good'], /unknown command 'mend'/],
    [['check', 'absent.spring'], /No such file or folder: absent\.spring\./],
    [['check', 'nothing'], /No \.spring files in nothing\./],
    [['check', 'nothing/readme.txt'], /Not a \.spring file: nothing\/readme\.txt\./],
  ])('%j is a mistake that one line names', (args, message) => {
    const { code, out, err } = run(...args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(message);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
  });

  it('without a command shows the help as a mistake', () => {
    const { code, out, err } = run();
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('Usage: springwright');
  });
});

describe('exit codes', () => {
  it('are 0 where every requirement is met', () => {
    expect(run('check', 'good')).toMatchObject({ code: 0, err: '' });
    expect(run('analyze', 'good')).toMatchObject({ code: 0, err: '' });
  });

  it('are 1 where one is missed, with place, actual and expected', () => {
    const { code, out } = run('check', 'missed.spring');
    expect(code).toBe(1);
    expect(out).toMatch(/^missed\.spring:15:26: error: /m);
    expect(out).toMatch(
      /missed +engaged +molar\.moment\.crown_distal >= 1000 N mm +is .* expected .*\(it tips the molar back\)/,
    );
    expect(run('analyze', 'missed.spring').code).toBe(1);
  });

  it('are 0 where only a preference is missed', () => {
    const { code, out } = run('check', 'preferred.spring');
    expect(out).toMatch(/: warning: /);
    expect(code).toBe(0);
  });

  it.each(['wrong-unit.spring', 'half-typed.spring'])('are 1 where %s has errors', (file) => {
    const { code, out } = run('check', file);
    expect(code).toBe(1);
    expect(out).toMatch(new RegExp(`^${file.replace('.', '\\.')}:\\d+:\\d+: error: .+ \\[[a-z-]+\\]$`, 'm'));
  });
});

describe('JSON', () => {
  it.each(['check', 'analyze'])('of %s holds to the published schema', (name) => {
    const { out } = run(name, '--format', 'json', '.');
    const report = JSON.parse(out);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.command).toBe(name);
  });

  it('holds the force system: equal and opposite forces on the two teeth', () => {
    const report = JSON.parse(run('analyze', '--format', 'json', 'good/a.spring').out) as AnalyzeReport;
    const [{ stages, status, cutLength, developedLength }] = report.files[0].appliances;
    expect(status).toBe('converged');
    // 4 + 3 + 9 + 4 mm of straight wire and the arc of the bend, its radius (1.5 + 0.5) x 0.017 in for beta-titanium.
    expect(developedLength).toBeCloseTo(20 + (2 * 0.4318 * 10 * Math.PI) / 180, 5);
    expect(cutLength!.length).toBeCloseTo(developedLength! + 30, 5);
    const [molar, canine] = stages[0].state!.loads;
    expect(molar.moment.crown_distal).toBeGreaterThan(1);
    // Written with seven digits.
    expect(molar.force.gingival).toBeCloseTo(canine.force.occlusal, 5);
    expect(molar.force.gingival).not.toBe(0);
  });

  it('speaks in newtons, text in the unit asked for', () => {
    const report = JSON.parse(run('check', '--format', 'json', 'missed.spring').out) as AnalyzeReport;
    expect(report.files[0].appliances[0].requirements[0].actual).toMatch(/ N mm$/);
    expect(run('check', 'missed.spring').out).toMatch(/is [\d.]+ gf mm, expected at least/);
    expect(run('check', '--units', 'N', 'missed.spring').out).toMatch(/is [\d.]+ N mm, expected at least/);
  });

  it('says with --bands how far the figures spread, and solves no more than it must without', () => {
    const [plain, spread] = [[], ['--bands']].map(
      (options) => JSON.parse(run('analyze', '--format', 'json', ...options, 'good/a.spring').out) as AnalyzeReport,
    );
    expect(validate(spread), JSON.stringify(validate.errors)).toBe(true);
    expect(plain.files[0].appliances[0].bands).toBeNull();
    const { bands, stages } = spread.files[0].appliances[0];
    const moment = stages[0].state!.loads[0].moment.buccal;
    expect(bands!.loads[0].moment.buccal.low).toBeLessThan(moment);
    expect(bands!.loads[0].moment.buccal.high).toBeGreaterThan(moment);
    expect(run('analyze', '--bands', 'good/a.spring').out).toMatch(/molar +crown-distal +\d+ gf mm \(\d+ \.\. \d+\)/);
  });

  it('says which model it is of, and bending alone is a little stiffer', () => {
    const moment = (...options: string[]) => {
      const report = JSON.parse(run('analyze', '--format', 'json', ...options, 'good/a.spring').out) as AnalyzeReport;
      return [report.model, report.files[0].appliances[0].stages[0].state!.loads[0].moment.crown_distal] as const;
    };
    const [full, moment1] = moment();
    const [bending, moment2] = moment('--bending-only');
    expect([full, bending]).toEqual(['full', 'bending-only']);
    expect(moment2).toBeGreaterThan(moment1);
  });
});

describe('order and paths', () => {
  it('do not depend on the order of arguments, and every file comes once', () => {
    const once = run('analyze', '--format', 'json', 'good');
    expect(run('analyze', '--format', 'json', 'good/deep', 'good/b.spring', './good/a.spring', 'good').out).toBe(
      once.out,
    );
    const report = JSON.parse(once.out) as AnalyzeReport;
    expect(report.files.map(({ path }) => path)).toEqual(['good/a.spring', 'good/b.spring', 'good/deep/er/c.spring']);
  });

  it('hold nothing of the machine and no colour in a pipe', () => {
    const { out } = run('analyze', '.');
    expect(out).not.toContain(command.folder);
    expect(out).not.toContain('\u001b');
  });

  it('are searched for in the working directory when none is given', () => {
    const report = JSON.parse(run('check', '--format', 'json').out) as AnalyzeReport;
    expect(report.files.length).toBeGreaterThanOrEqual(7);
  });
});

describe('modules', () => {
  it('are read from disk beside the file that uses them', () => {
    command.write('modules/parts/sizes.spring', 'let arm = 9 mm\n');
    command.write(
      'modules/main.spring',
      tipBack('modular', met)
        .replace('use "alloys"', 'use "alloys"\nuse "./parts/sizes.spring"')
        .replace('straight 9 mm', 'straight arm'),
    );
    expect(run('check', 'modules/main.spring')).toMatchObject({ code: 0, err: '' });
  });

  it('that are not there are an error at the line that uses them', () => {
    command.write('lost.spring', tipBack('lost', met).replace('use "alloys"', 'use "alloys"\nuse "./gone.spring"'));
    const { code, out } = run('check', 'lost.spring');
    expect(code).toBe(1);
    expect(out).toMatch(/^lost\.spring:2:5: error: .*gone\.spring/m);
  });
});
