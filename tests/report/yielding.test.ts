/** Yielding and trial activation in the JSON report and in the text. */
import { expect, it } from 'vitest';
import { evaluateAppliance } from '#model/evaluate';
import { plain } from '#report/paint';
import { buildAnalyzeReport } from '#report/report';
import { analyzeReport } from '#report/schema';
import { analyzeText } from '#report/text';
import { resolveAppliance } from '../model/resolve-text';

const gabled = (trial: string, gable = '45 deg') => `use "alloys"
use "loops"
appliance gabled {
  wire 0.019 in x 0.025 in of beta_titanium
  path running mesial {
    straight 10 mm
    seat molar
    straight 6 mm
    preactivate ${gable} toward gingival
    open_loop(height = 7 mm, width = 2 mm) as loop
    preactivate ${gable} toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 1 mm step 0.5 mm
  ${trial}
}
`;

function reportOf(text: string) {
  const evaluated = evaluateAppliance(resolveAppliance(text), text);
  return buildAnalyzeReport([{ path: 'a.spring', text, problems: [], silenced: [], appliances: [evaluated] }], {
    version: '0.0.0',
    model: 'full',
  });
}

it('carries the wire before and after its trial activation, as the schema says', () => {
  const report = reportOf(gabled('trial activation 2 mm'));
  expect(analyzeReport.parse(report)).toEqual(report);
  const [{ trialActivation, yielding, neutral, unfollowed }] = report.files[0].appliances;
  expect(trialActivation).toBe(2);
  expect(unfollowed).toBeNull();
  expect(yielding?.stages).toBe('after-trial');
  expect(yielding?.trial?.amount).toBe(2);
  expect(yielding?.trial?.neutral).toEqual(neutral);
  expect(yielding?.trial?.neutral.motion).toBeGreaterThan(yielding!.first.neutral.motion);
  expect(yielding?.first.neutral.stress.fibre).toBeLessThan(yielding!.first.neutral.stress.largest);
});

it('says so in words, and says nothing of it where the wire stays elastic', () => {
  const options = { units: { force: 'gf' as const }, paint: plain };
  const text = analyzeText(reportOf(gabled('trial activation 2 mm')), options);
  expect(text).toMatch(
    /trial activation +pulled to 2 mm and let go: set of [\d.]+ deg, neutral from -[\d.]+ mm to -[\d.]+ mm/,
  );
  expect(text).toMatch(/in a fibre, MPa/);
  expect(analyzeText(reportOf(gabled('')), options)).toMatch(/if tried out +pulled to 1 mm and let go/);
  const elastic = reportOf(gabled('', '4 deg'));
  expect(elastic.files[0].appliances[0].yielding).toBeNull();
  expect(analyzeText(elastic, options)).not.toMatch(/in a fibre|tried out/);
});
