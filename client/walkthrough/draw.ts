/** Draws the pictures of the walkthrough, of designs as they are computed: `npm run pictures`. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { drawActivationCharts } from '#drawing/activation-charts';
import { drawAppliance } from '#drawing/appliance';
import { drawComparison } from '#drawing/comparison';
import { standaloneDrawing, type Theme } from '#drawing/standalone';
import { element, escapeText } from '#drawing/svg';
import { provideInlayHints } from '#features/inlay-hints';
import { checkRequirements, provideRequirements } from '#features/requirements';
import { defaultSettings } from '#features/settings';
import { activationCurves } from '#model/activation-curves';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import loopText from '../../examples/02-open-vertical-loop.spring';
import armText from '../../server/src/cli/first-appliance.spring';

const { units } = defaultSettings;
const colours = {
  light: { ground: '#ffffff', text: '#24292f', quiet: '#57606a', good: '#0b6b3a', bad: '#a4262c' },
  dark: { ground: '#1b1f24', text: '#d7dde3', quiet: '#9aa5b1', good: '#6fd39a', bad: '#ff9b8e' },
} as const;

void draw();

async function draw(): Promise<void> {
  const arm = await computed(armText);
  const steeper = await computed(armText.replace('tip_back = 12 deg', 'tip_back = 17 deg'));
  const loop = await computed(loopText);
  const [curves] = loop.appliances.flatMap((appliance) => activationCurves(appliance, loop.text) ?? []);
  const [chart] = drawActivationCharts(curves, { activation: loop.appliances[0].workingActivation, units });
  const lower = await computed(loopText.replace('height = 8 mm', 'height = 6 mm'));
  const { name } = loop.appliances[0].appliance;
  const pair = { name, before: loop.appliances[0], after: lower.appliances[0] };
  for (const theme of ['light', 'dark'] as const) {
    write('appliance', theme, textPicture(arm, theme));
    write('figures', theme, standaloneDrawing(chart.svg, theme));
    write('preview', theme, standaloneDrawing(drawAppliance(arm.appliances[0], { units })!, theme));
    write('requirements', theme, requirementsPicture(steeper, theme));
    write('share', theme, standaloneDrawing(drawComparison([pair], 'overlay', units)!, theme));
  }
}

async function computed(text: string): Promise<Snapshot> {
  const workspace = createWorkspace({ readFile: async () => undefined });
  const uri = 'file:///picture.spring';
  workspace.open(uri, text, 1);
  return (await workspace.snapshot(uri, units))!;
}

/** The file's lines with what the editor shows at their ends. */
function textPicture(snapshot: Snapshot, theme: Theme): string {
  const { text, quiet } = colours[theme];
  const lines = snapshot.text.trimEnd().split('\n');
  const everything = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
  const hints = provideInlayHints(snapshot, everything, defaultSettings);
  const first = lines.findIndex((line) => line.startsWith('appliance'));
  const end = lines.findIndex((line) => line.includes('// Every check'));
  const rows = lines.slice(first, end - 1).map((line, index) => {
    const own = hints.filter(({ position }) => position.line === first + index);
    const words = own.map(({ label }) => (typeof label === 'string' ? label : label.map((p) => p.value).join('')));
    const code = line.replace(/\s*\/\/.*/, '');
    return [
      row(code, 16, index, text),
      ...(words.length === 0 ? [] : [row(words.join('  ').trim(), 16 + (code.length + 2) * 7.25, index, quiet)]),
    ].join('');
  });
  return picture(theme, 800, 20 * rows.length + 24, rows);
}

function requirementsPicture(snapshot: Snapshot, theme: Theme): string {
  const { text, quiet, good, bad } = colours[theme];
  const { verdicts } = checkRequirements(snapshot);
  const rows = provideRequirements(snapshot).flatMap(({ appliance, requirements }) => [
    row(appliance, 16, 0, quiet),
    ...requirements.map(({ condition }, index) => {
      const { outcome, actual, margin } = verdicts[index];
      const sign = outcome === 'met' ? '✓' : '✗';
      return [
        row(sign, 16, index + 1, outcome === 'met' ? good : bad),
        row(condition, 38, index + 1, text),
        row(`${actual}, ${margin}`, 500, index + 1, quiet),
      ].join('');
    }),
  ]);
  return picture(theme, 760, 20 * rows.length + 24, rows);
}

function row(words: string, x: number, index: number, fill: string): string {
  return element('text', { x, y: 26 + 20 * index, fill, 'xml:space': 'preserve' }, escapeText(words));
}

function picture(theme: Theme, width: number, height: number, rows: readonly string[]): string {
  const size = { xmlns: 'http://www.w3.org/2000/svg', width, height, viewBox: `0 0 ${width} ${height}` };
  const font = { 'font-family': 'Consolas, Menlo, DejaVu Sans Mono, monospace', 'font-size': 12 };
  const ground = element('rect', { width, height, rx: 6, fill: colours[theme].ground });
  return `${element('svg', { ...size, ...font }, ground, ...rows)}\n`;
}

function write(name: string, theme: Theme, svg: string): void {
  writeFileSync(path.join('client', 'walkthrough', `${name}-${theme}.svg`), svg);
}
