/** What `check` writes for others than people: SARIF, Markdown, annotations; and from which finding on it fails. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import Ajv04 from 'ajv-draft-04';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand, type Command } from './command';

/** The standard's schema as @microsoft/jest-sarif carries it: SARIF 2.1.0, release 5. */
const schemaFile = resolve(
  import.meta.dirname,
  '../../node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json',
);
// One of its patterns is not valid with the flag u.
const validate = new Ajv04({ strict: false, validateFormats: false, unicodeRegExp: false }).compile(
  JSON.parse(readFileSync(schemaFile, 'utf8')),
);

let command: Command;

const cantilever = (requirement: string, more = '') => `use "alloys"
appliance arm {
  wire 0.017 in x 0.025 in of beta_titanium
${more}  path running mesial {
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
const missed = 'require when engaged { molar.moment.crown_distal >= 1000 N mm because "it tips, 100 % | more" }';

beforeAll(async () => {
  command = await buildCommand();
  command.write('met.spring', cantilever(met));
  command.write('a folder/missed.spring', cantilever(missed));
  command.write('spare.spring', cantilever(met, '  param spare = 3 mm\n'));
  command.write(
    'silenced.spring',
    cantilever(met, '  // ignore-next-line unused-parameter: for later\n  param spare = 3 mm\n'),
  );
  command.write('broken.spring', cantilever(met).replace('straight 9 mm', 'straight 9'));
  command.write('binary.spring', new Uint8Array([1, 0, 2]));
});

afterAll(() => command.remove());

interface Log {
  readonly runs: readonly [
    {
      readonly tool: { readonly driver: { readonly rules: readonly { readonly id: string }[] } };
      readonly invocations: readonly [
        { readonly executionSuccessful: boolean; readonly toolExecutionNotifications: readonly unknown[] },
      ];
      readonly results: readonly {
        readonly ruleId: string;
        readonly ruleIndex: number;
        readonly level: string;
        readonly suppressions?: readonly { readonly kind: string; readonly justification: string }[];
        readonly locations: readonly [
          {
            readonly physicalLocation: {
              readonly artifactLocation: { readonly uri: string };
              readonly region: { readonly startLine: number };
            };
          },
        ];
      }[];
    },
  ];
}

describe('SARIF', () => {
  const sarif = (...args: string[]) => {
    const log = JSON.parse(command.run('check', '--format', 'sarif', ...args).out) as Log;
    expect(validate(log), JSON.stringify(validate.errors)).toBe(true);
    return log.runs[0];
  };

  it('holds to the schema of the standard, with findings and without', () => {
    expect(sarif('met.spring').results).toEqual([]);
    const run = sarif('.');
    expect(run.results.length).toBeGreaterThanOrEqual(4);
    for (const { ruleId, ruleIndex } of run.results) expect(run.tool.driver.rules[ruleIndex].id).toBe(ruleId);
  });

  it('says where and how gravely, with paths as addresses', () => {
    const [result] = sarif('a folder/missed.spring').results;
    expect(result).toMatchObject({ ruleId: 'requirement-missed', level: 'error' });
    const { artifactLocation, region } = result.locations[0].physicalLocation;
    expect(artifactLocation.uri).toBe('a%20folder/missed.spring');
    expect(region.startLine).toBe(15);
  });

  it('keeps what is silenced, with the reason and by what', () => {
    expect(sarif('silenced.spring').results).toMatchObject([
      { ruleId: 'unused-parameter', suppressions: [{ kind: 'inSource', justification: 'for later' }] },
    ]);
    expect(sarif('--severity', 'unused-parameter=off', 'spare.spring').results).toMatchObject([
      { suppressions: [{ kind: 'external' }] },
    ]);
  });

  it('tells of a file that cannot be read as a failure of the run', () => {
    const [invocation] = sarif('binary.spring').invocations;
    expect(invocation.executionSuccessful).toBe(false);
    expect(invocation.toolExecutionNotifications).toMatchObject([
      { message: { text: 'binary.spring is a binary file, not text' } },
    ]);
  });
});

describe('Markdown', () => {
  it('tables findings and requirements, one row a line', () => {
    const { code, out } = command.run('check', '--format', 'markdown', 'a folder', 'met.spring');
    expect(code).toBe(1);
    const rows = out.split('\n').filter((line) => line.startsWith('|'));
    // Unescaped bars: those of the table alone.
    const bars = rows.map((row) => row.match(/(?<!\\)\|/g)?.length);
    expect(bars).toEqual([4, 4, 4, 6, 6, 6, 6]);
    expect(out).toContain('`a folder/missed.spring:15`');
    expect(out).toContain('**missed**');
    expect(out).toContain('100 % \\| more');
    expect(out).toMatch(/^2 files; 2 appliances; 2 requirements: 1 met, 1 missed/);
    expect(out).toContain('not a prescription');
  });

  it('has no table where there is nothing to put in it', () => {
    command.write('bare.spring', cantilever(''));
    expect(command.run('check', '--format', 'markdown', 'bare.spring').out).not.toContain('|');
  });
});

describe('annotations', () => {
  it('are a line each, with what ends a field written otherwise', () => {
    const { out } = command.run('check', '--format', 'annotations', 'a folder', 'spare.spring', 'binary.spring');
    const lines = out.trimEnd().split('\n');
    expect(lines).toHaveLength(3);
    expect(lines[0]).toMatch(
      /^::error file=a folder\/missed\.spring,line=15,col=\d+,endColumn=\d+,title=requirement-missed::.*100 %25 \| more/,
    );
    expect(lines[1]).toBe('::error file=binary.spring::binary.spring is a binary file, not text');
    expect(lines[2]).toMatch(/^::warning file=spare\.spring,line=4,col=9,/);
  });

  it('are none where nothing is found', () => {
    expect(command.run('check', '--format', 'annotations', 'met.spring')).toEqual({ code: 0, out: '', err: '' });
  });

  it('are not for analyze', () => {
    expect(command.run('analyze', '--format', 'annotations', 'met.spring').code).toBe(2);
  });
});

describe('--fail-on', () => {
  it.each([
    ['error', 0],
    ['warning', 1],
    ['information', 1],
    ['hint', 1],
  ])('%s: a warning makes the exit code %i', (severity, code) => {
    expect(command.run('check', '--fail-on', severity, 'spare.spring').code).toBe(code);
    expect(command.run('check', '--fail-on', severity, 'met.spring').code).toBe(0);
    expect(command.run('check', '--fail-on', severity, 'broken.spring').code).toBe(1);
  });

  it('leaves out what is silenced, and never a requirement', () => {
    expect(command.run('check', '--fail-on', 'hint', 'silenced.spring').code).toBe(0);
    expect(command.run('check', '--severity', 'requirement-missed=hint', 'a folder').code).toBe(1);
  });
});

describe('what is checked', () => {
  it('may be piped in', () => {
    const { code, out } = command.pipe(cantilever(missed), 'check', '-');
    expect(code).toBe(1);
    expect(out).toMatch(/^-:15:\d+: error: /m);
    expect(command.pipe(cantilever(met), 'check', '-').code).toBe(0);
    expect(command.pipe('a'.repeat(600 * 1024), 'check', '-').out).toContain('is too large');
  });

  it('may be a pattern that the shell has left as it is', () => {
    const { out } = command.run('check', '{met,spare}.spring');
    expect(out).toMatch(/^2 files;/m);
    const none = command.run('check', 'no*.spring');
    expect(none).toMatchObject({ code: 2, err: 'No .spring files match no*.spring.\n' });
  });
});
