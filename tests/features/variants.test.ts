/** A variant is shown at its own line; the body that it shares goes on to show the appliance. A gauge shows its modulus. */
import { describe, expect, it } from 'vitest';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { defaultSettings } from '#features/settings';
import { snapshotOf, wholeText } from './fixture';

const appliance = `use "alloys"
appliance v_bend {
  wire 0.017 in x 0.025 in of beta_titanium
  param angle = 10 deg in 5 deg .. 20 deg
  path running mesial {
    straight 4 mm
    seat molar
    straight 3 mm
    preactivate angle toward gingival
    straight 12 mm
    seat canine
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 2 mm
  hook canine
  require when engaged { molar.moment.crown_distal >= 1 N mm }
}
`;
const text = `${appliance}variant strong of v_bend { angle = 14 deg }\n`;

const labels = async (file: string) =>
  new Map(
    provideInlayHints(await snapshotOf(file), wholeText, defaultSettings).map(({ position, label }) => [
      position.line,
      String(label),
    ]),
  );

describe('a variant', () => {
  it('has its force and its requirements at its own line and changes no hint of its appliance', async () => {
    const alone = await labels(appliance);
    const both = await labels(text);
    const line = text.split('\n').findIndex((one) => one.startsWith('variant'));
    expect(both.get(line)).toMatch(/^canine .* gf .*1 of 1 met/);
    both.delete(line);
    expect(both).toEqual(alone);
  });

  it('tells its force system on hover, and stands in the outline', async () => {
    const snapshot = await snapshotOf(text);
    const line = text.split('\n').findIndex((one) => one.startsWith('variant'));
    const hover = provideHover(snapshot, { line, character: 'variant st'.length }, defaultSettings);
    expect(JSON.stringify(hover)).toContain('variant strong of v_bend');
    expect(JSON.stringify(hover)).toContain('Of the wire on the tooth');
    expect(provideDocumentSymbols(snapshot).map(({ name, detail }) => [name, detail])).toContainEqual([
      'strong',
      'variant of v_bend',
    ]);
  });
});

describe('a gauge', () => {
  it('shows the modulus that it asks for', async () => {
    const gauged = appliance
      .replace(
        'hook canine',
        'hook canine\n  activation move canine gingival 0 mm .. 1 mm step 0.5 mm\n  gauge 17 gf at activation 1 mm',
      )
      .replace(/ {2}require.*\n/, '');
    const snapshot = await snapshotOf(gauged);
    const line = gauged.split('\n').findIndex((one) => one.includes('gauge'));
    const computed = snapshot.appliances[0].gauged;
    expect(computed?.corrected).toBeGreaterThan(33_000);
    expect((await labels(gauged)).get(line)).toMatch(/^modulus \d+(\.\d)? GPa/);
    const hover = provideHover(snapshot, { line, character: 3 }, defaultSettings);
    expect(JSON.stringify(hover)).toContain('which gives the reading');
  });
});
