/** Springback in the report: the handbook's 90° bend, a helix in turns, each different bend once in the text. */
import { beforeAll, describe, expect, it } from 'vitest';
import { plain } from '#report/paint';
import { buildAnalyzeReport } from '#report/report';
import type { AnalyzeReport } from '#report/schema';
import { analyzeText } from '#report/text';
import { createWorkspace } from '#workspace/workspace';

const text = `alloy test_alloy { modulus = 180 GPa poisson = 0.3 yield = 1500 MPa inner_radius = 1 }
appliance bent {
  wire 0.016 in x 0.022 in of test_alloy
  // Left with 1.06551 mm by a beak that bends to 1 mm: Ri/Rf = 0.938519 (handbook 11, C8).
  let left = 1 mm / 0.938519
  path running mesial {
    seat molar
    straight 5 mm
    bend 90 deg toward gingival radius left
    helix 1.5 turns diameter 2 mm toward mesial
    bend -90 deg toward distal radius left
    bend 20 deg toward gingival radius 0 mm
    preactivate 10 deg toward lingual radius 2 mm
    straight 5 mm
    seat canine
  }
  bracket molar
  bracket canine
}
`;

let report: AnalyzeReport;

beforeAll(async () => {
  const workspace = createWorkspace({ readFile: async () => undefined });
  workspace.open('file:///bent.spring', text, 1);
  const snapshot = (await workspace.snapshot('file:///bent.spring'))!;
  report = buildAnalyzeReport([{ path: 'bent.spring', ...snapshot }], { version: '0', model: 'full' });
});

describe('springback in the report', () => {
  it('gives every bend with a radius, in the order of the wire', () => {
    const { bends } = report.files[0].appliances[0];
    expect(bends.map(({ kind, line, direction }) => [kind, line, direction])).toEqual([
      ['bend', 9, 'gingival'],
      ['helix', 10, 'mesial'],
      ['bend', 11, 'distal'],
      ['preactivate', 13, 'lingual'],
    ]);
    const [first] = bends;
    // C8: overbend for 90° is 95.90°.
    expect(Math.abs(first.formedAngle / 95.9 - 1)).toBeLessThan(1e-4);
    expect(Math.abs(first.formedRadius - 1)).toBeLessThan(1e-5);
    expect(first.to - first.from).toBeCloseTo((Math.PI / 2 / 0.938519) * 1, 5);
    expect(bends[1].angle).toBe(540);
    expect(bends[1].formedAngle / 540).toBeCloseTo(1 / bends[1].formedRadius, 5);
    // Sideways the wire is thicker and springs back less.
    expect(bends[3].formedAngle).toBeGreaterThan(10);
  });

  it('names the rounded edges of the wire', async () => {
    const workspace = createWorkspace({ readFile: async () => undefined });
    workspace.open('file:///edged.spring', text.replace('0.022 in of', '0.022 in corner 0.06 mm of'), 1);
    const snapshot = (await workspace.snapshot('file:///edged.spring'))!;
    const edged = buildAnalyzeReport([{ path: 'edged.spring', ...snapshot }], { version: '0', model: 'full' });
    expect(edged.files[0].appliances[0].wire?.section).toMatchObject({ kind: 'rectangle', cornerRadius: 0.06 });
    expect(analyzeText(edged, { units: { force: 'gf' }, paint: plain })).toContain(
      '(0.016 × 0.022 in), edges 0.06 mm, of test_alloy',
    );
  });

  it('says each different bend once, a helix in turns', () => {
    const shown = analyzeText(report, { units: { force: 'gf' }, paint: plain });
    expect(shown).toMatch(/2 × {2}bend +90 deg {2}radius 1\.066 mm {2}bend to +95\.9 deg {2}radius 1 mm/);
    expect(shown).toMatch(/1 × {2}helix +1\.5 turns {2}diameter 2 mm +wind +1\.\d+ turns {2}diameter 1\.\d+ mm/);
  });
});
