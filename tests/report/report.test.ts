import { describe, expect, it } from 'vitest';
import { plain } from '#report/paint';
import { buildAnalyzeReport, buildCheckReport } from '#report/report';
import { rounded } from '#report/rounded';
import { analyzeText, checkText } from '#report/text';
import { textPositions } from '#report/text-position';
import { evaluatedFile } from './synthetic';

const options = { version: '0.0.0', model: 'full' } as const;
const unreadable = { path: 'broken.spring', unreadable: 'is a binary file, not text' };
const report = buildAnalyzeReport([evaluatedFile(), unreadable], options);
const [closing, unfinished] = report.files[0].appliances;
const last = closing.stages[closing.stages.length - 1].state!;

describe('the report of an analysis', () => {
  it('gives problems their place, counted from 1', () => {
    const [missing] = report.files[0].problems;
    expect([missing.line, missing.column, missing.endLine, missing.endColumn]).toEqual([8, 11, 8, 21]);
    expect(missing.hint).toBe('Write wire …');
  });

  it('adds the allowance for holding to both ends (handbook 8: 10 to 15 mm, common practice)', () => {
    expect(closing.developedLength).toBe(58.2);
    expect(closing.cutLength).toEqual({ length: 88.2, allowancePerEnd: 15 });
  });

  it('names the signed components by what they do, in the frame of the mechanics note', () => {
    const canine = last.loads[1];
    expect(canine.force).toEqual({
      mesial: -1.22,
      distal: 1.22,
      gingival: 0.37,
      occlusal: -0.37,
      buccal: -0.06,
      lingual: 0.06,
      total: rounded(Math.hypot(1.22, 0.37, 0.06)),
    });
    // z > 0 crown-mesial, y > 0 mesial-in, x > 0 crown-lingual; here the moment is (-0.3, 1.9, 8.3).
    expect(canine.moment).toMatchObject({ mesial: -0.3, gingival: 1.9, buccal: 8.3 });
    expect(canine.moment).toMatchObject({ crown_mesial: 8.3, crown_distal: -8.3, mesial_in: 1.9, mesial_out: -1.9 });
    expect(canine.moment).toMatchObject({ crown_buccal: 0.3, crown_lingual: -0.3 });
  });

  it('has a moment-to-force ratio of one sense on both teeth, and none without a pull', () => {
    expect(last.loads[1].momentToForce).toBe(rounded(8.3 / 1.22));
    expect(last.loads[0].momentToForce).toBe(rounded(11.6 / 1.22));
    expect(closing.stages[0].state!.loads[0].momentToForce).toBeNull();
  });

  it('converts the leg angle to degrees and relates stress to yield', () => {
    expect(last.loops).toEqual([{ name: 'loop', legGap: 1.8, legAngle: rounded(18 / Math.PI) }]);
    expect(last.stress).toEqual({ largest: 800, elasticUse: 0.8, station: 12, fibre: null });
  });

  it('keeps an appliance that cannot be computed', () => {
    expect(unfinished).toMatchObject({ name: 'unfinished', line: 8, wire: null, developedLength: null, stages: [] });
  });

  it('counts', () => {
    expect(report.summary).toEqual({
      files: 2,
      appliances: 2,
      errors: 3,
      warnings: 0,
      silenced: 0,
      requirements: { met: 1, missed: 1, notEvaluable: 0 },
    });
  });

  it('is the same every time and holds neither time nor machine', () => {
    const again = buildAnalyzeReport([evaluatedFile(), unreadable], options);
    expect(JSON.stringify(again)).toBe(JSON.stringify(report));
    expect(JSON.stringify(report)).not.toMatch(/\d{4}-\d\d-\d\d|"\//);
  });

  it('writes no negative zero and no digit beyond the seventh', () => {
    expect(Object.is(rounded(-1e-12), 0)).toBe(true);
    expect(rounded(1.23456789)).toBe(1.234568);
    expect(rounded(123456.789)).toBe(123456.8);
  });
});

describe('the text for people', () => {
  const written = analyzeText(report, { units: { force: 'gf' }, paint: plain });
  const lines = written.split('\n');

  it('puts problems where editors can jump to them', () => {
    expect(lines).toContain(
      'springs/closing.spring:8:11: error: This appliance has no wire. Write wire … [missing-wire]',
    );
    expect(lines).toContain('broken.spring: error: is a binary file, not text');
  });

  it('says in both units and in words what the wire does at the working activation', () => {
    expect(lines).toContain('  At 1.5 mm of activation, the wire on the tooth');
    expect(written).toMatch(/canine +pulls distally +62\.2 gf +0\.61 N\n/);
  });

  it('has a row for each stage in columns of equal width', () => {
    const start = lines.indexOf('  canine (bracket)');
    const rows = lines.slice(start + 1, start + 9);
    expect(rows[0]).toMatch(
      /activation +distal, gf +gingival, gf +lingual, gf +crown-buccal, gf mm +mesial-in, gf mm +crown-mesial, gf mm +moment\/force, mm$/,
    );
    expect(new Set(rows.map((row) => row.length)).size).toBe(1);
    expect(rows[7]).toMatch(/^ +3 mm +124 +37\.7 +6\.1 +31 +194 +846 +6\.803$/);
  });

  it('shows crossed legs as such', () => {
    expect(written).toMatch(
      /activation +loop leg gap +leg angle +stress, MPa +elastic use\n +0 mm +1\.2 mm, crossed +5\.73 deg +800 +80 %\n/,
    );
    expect(written).toMatch(/loop legs +parallel at 1\.2 mm of activation\n/);
  });

  it('sets what was found against what was expected', () => {
    expect(written).toMatch(
      /missed +at 1\.5 mm +canine\.force\.distal in 100 gf \.\. 150 gf +is 62\.2 gf, expected 100 gf \.\. 150 gf\n/,
    );
    expect(written).toMatch(/met +at 1\.5 mm +wire\.stress <= 0\.9 \* wire\.yield +is 800 MPa\n/);
  });

  it('ends with the count and the caution', () => {
    expect(lines.slice(-3)).toEqual([
      '2 files; 2 appliances; 2 requirements: 1 met, 1 missed; 3 errors; 0 warnings',
      report.caution,
      '',
    ]);
  });

  it('of a check holds problems and verdicts only', () => {
    const check = checkText(buildCheckReport([evaluatedFile()], options), { units: { force: 'N' }, paint: plain });
    expect(check).toContain('missed');
    expect(check).not.toContain('developed length');
  });

  it('changes unit with the preference', () => {
    const newton = analyzeText(report, { units: { force: 'N' }, paint: plain });
    expect(newton).toContain('distal, N');
    expect(newton).toMatch(/pulls distally +0\.61 N +62\.2 gf/);
  });
});

describe('positions in a text', () => {
  it('end lines at every kind of line break and count UTF-16 code units', () => {
    const at = textPositions('a\r\nb\rc\n𝛼d');
    expect([0, 3, 5, 7, 9].map(at)).toEqual([
      { line: 1, column: 1 },
      { line: 2, column: 1 },
      { line: 3, column: 1 },
      { line: 4, column: 1 },
      { line: 4, column: 3 },
    ]);
    expect(at(99)).toEqual({ line: 4, column: 4 });
  });
});
