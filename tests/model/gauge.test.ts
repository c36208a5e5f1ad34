import { describe, expect, it } from 'vitest';
import { evaluateAppliance } from '#model/evaluate';
import { plain } from '#report/paint';
import { buildAnalyzeReport } from '#report/report';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';
import { checkProblems, problemsOf } from './fixture';
import { resolveText } from './resolve-text';

const loop = (gauge: string, motion = 'pull through molar') => `use "alloys"
use "loops"
appliance closing {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 6 mm
    seat molar
    straight 4 mm
    open_loop(height = 8 mm, width = 2 mm) as loop
    straight 3.5 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.018 in x 0.025 in, length 4 mm
  bracket canine slot 0.018 in x 0.025 in, width 3 mm
  activation ${motion} 0 mm .. 0.5 mm step 0.25 mm
  ${gauge}
}
`;

/** Of a curve's forces, by the mesh rule (core/mechanics/mesh.ts): right to 1e-4. */
const ACCURACY = 1e-4;

const evaluated = (text: string) => {
  const [appliance] = resolveText(text).appliances;
  return evaluateAppliance(appliance, text);
};

const forceAt = (text: string, stage: number, attachment: number) =>
  evaluated(text).analysis?.stages[stage].state?.wrenches[attachment].force[0] ?? Number.NaN;

describe('a gauge reading', () => {
  it.each(['pull through molar', 'move canine mesial'])('makes the elastic wire give it: %s', (motion) => {
    const plainForce = Math.abs(forceAt(loop('', motion), 2, motion.includes('canine') ? 1 : 0));
    const reading = plainForce * 1.05;
    const text = loop(`gauge ${reading} N at activation 0.5 mm`, motion);
    expect(problemsOf(text, { mechanics: true })).toEqual([]);
    const { gauged, appliance } = evaluated(text);
    expect(gauged?.stated).toBe(180_000);
    expect(Math.abs((gauged?.computed ?? 0) / plainForce - 1)).toBeLessThan(ACCURACY);
    // Forces of an elastic wire between given places are in proportion to its modulus: 1.05 × 180 GPa.
    expect(Math.abs((gauged?.corrected ?? 0) / 189_000 - 1)).toBeLessThan(ACCURACY);
    // Solved anew with that modulus it gives the reading, and the neutral position, at which there is no force, stays.
    expect(Math.abs(Math.abs(forceAt(text, 2, motion.includes('canine') ? 1 : 0)) / reading - 1)).toBeLessThan(
      ACCURACY,
    );
    expect(evaluated(text).analysis?.neutral?.motion).toBeCloseTo(
      evaluated(loop('', motion)).analysis?.neutral?.motion ?? 1,
      6,
    );
    expect(appliance.design?.alloy.modulus).toBe(180_000);
  });

  it('is told where the alloy does not have that modulus, and not used beyond a factor of two', () => {
    const force = Math.abs(forceAt(loop(''), 2, 0));
    const stiff = evaluated(loop(`gauge ${force * 1.5} N at activation 0.5 mm`));
    expect(stiff.gauged?.corrected).toBeCloseTo(270_000, -1);
    expect(stiff.problems.map(({ code, severity }) => [code, severity])).toContainEqual([
      'gauge-implausible',
      'warning',
    ]);
    expect(stiff.problems.find(({ code }) => code === 'gauge-implausible')?.message).toMatch(
      /asks for a modulus of 270 GPa; steel has 160 GPa to 200 GPa\. It is computed with it all the same\.$/,
    );
    const wrong = evaluated(loop(`gauge ${force * 0.4} N at activation 0.5 mm`));
    expect(wrong.gauged).toBeUndefined();
    expect(wrong.problems.find(({ code }) => code === 'gauge-implausible')?.message).toMatch(
      /too far from it for a difference of the alloy\. The modulus is left as the alloy states it\.$/,
    );
    expect(evaluated(loop('gauge 1 N at activation 0 mm')).gauged).toBeUndefined();
  });

  it('has its units, is more than nothing, and needs an activation', () => {
    checkProblems(
      loop(`gauge 1.6 N mm at activation 0.5 mm
  //    ^^^^^^^^ error unit-mismatch: The reading of a gauge is a force, but "1.6 N mm" is a moment.`),
    );
    checkProblems(
      loop(`gauge 1.6 N at activation 0.5 N
  //                        ^^^^^ error unit-mismatch: The activation of a gauge reading is a length`),
    );
    checkProblems(
      loop(`gauge -1 N at activation 0.5 mm
  //    ^^^^ warning gauge-implausible: a reading is more than 0`),
    );
    const without = loop('gauge 1 N at activation 0.5 mm').replace(/ {2}activation pull.*\n/, '');
    expect(problemsOf(without).map(({ code }) => code)).toEqual(['activation-not-declared']);
  });

  it('stands in text and JSON report', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    const force = Math.abs(forceAt(loop(''), 2, 0));
    workspace.open('file:///a.spring', loop(`gauge ${force * 1.05} N at activation 0.5 mm`), 1);
    const snapshot = (await workspace.snapshot('file:///a.spring'))!;
    expect(snapshot.appliances[0].design?.alloy.modulus).toBeCloseTo(189_000, 0);
    const report = buildAnalyzeReport([{ path: 'a.spring', ...snapshot }], { version: '0', model: 'full' });
    const [appliance] = report.files[0].appliances;
    expect(appliance.gauge?.statedModulus).toBe(180_000);
    expect(appliance.gauge?.modulus).toBeCloseTo(189_000, 0);
    expect(appliance.wire?.modulus).toBe(appliance.gauge?.modulus);
    expect(analyzeText(report, { units: { force: 'gf' }, paint: plain })).toContain('so that the modulus is 189 GPa');
  });
});
