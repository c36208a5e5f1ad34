/** An auxiliary wire in the editor: its appliance shows what all wires do together, its own lines and its name its share. */
import { describe, expect, it } from 'vitest';
import { FORCE } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { provideCodeLenses } from '#features/code-lens';
import { provideDocumentSymbols } from '#features/document-symbols';
import { provideFoldingRanges } from '#features/folding-ranges';
import { provideHover } from '#features/hover';
import { provideInlayHints } from '#features/inlay-hints';
import { provideReferences } from '#features/references';
import { provideRename } from '#features/rename';
import { provideSemanticTokens, semanticTokenTypes } from '#features/semantic-tokens';
import { defaultSettings } from '#features/settings';
import { format } from '#grammar/printer';
import { readFixture, snapshotOf, wholeText } from './fixture';

const text = `use "alloys"

appliance held {
  wire 0.017 in x 0.025 in of steel

  path running mesial {
    straight 4 mm
    seat molar
    straight 12 mm
    seat canine
    straight 4 mm
  }

  tube molar slot 0.018 in x 0.025 in, length 4 mm
  bracket canine slot 0.018 in x 0.025 in, width 3 mm

  activation move molar gingival 0 mm .. 0.02 mm step 0.02 mm

  require at activation 0.02 mm {
    tip_back.molar.force.gingival <= 5 gf
    tip_back.wire.elastic_use <= 1
  }
}

/// Beside it.
auxiliary tip_back of held at molar 3 mm gingival {
  wire round 0.016 in of steel

  path running mesial {
    straight 4 mm
    seat molar
    straight 20 mm
    seat front
    straight 2 mm
  }

  tube molar length 4 mm
  hook front at 20 mm mesial 0.2 mm gingival
}
`;

const lineOf = (start: string, after = 0) =>
  text.split('\n').findIndex((line, index) => index >= after && line.trimStart().startsWith(start));
const auxiliaryLine = lineOf('auxiliary');
/** The place of `$0` in the only piece of the text that reads so without it. */
const at = (marked: string) => readFixture(text.replace(marked.replace('$0', ''), marked)).cursor!;

async function hoverAt(marked: string): Promise<string> {
  const hover = provideHover(await snapshotOf(text), at(marked), defaultSettings);
  return JSON.stringify(hover?.contents ?? '');
}

describe('an auxiliary wire', () => {
  it('has its share in the figures of its appliance, and alone at its own lines', async () => {
    const snapshot = await snapshotOf(text);
    const [both, spring] = snapshot.appliances;
    const shown = (force: number) => formatQuantity({ value: Math.abs(force), dimension: FORCE });
    const molar = (of: typeof both) => of.analysis!.stages.at(-1)!.state!.wrenches[0].force[1];
    const hints = new Map(
      provideInlayHints(snapshot, wholeText, defaultSettings).map(({ position, label }) => [
        position.line,
        String(label),
      ]),
    );
    expect(hints.get(lineOf('tube molar'))).toContain(`${shown(molar(both))} occlusal`);
    expect(hints.get(lineOf('tube molar', auxiliaryLine))).toContain(`${shown(molar(spring))} gingival`);
    const titles = provideCodeLenses(snapshot, defaultSettings).map(({ command }) => command?.title ?? '');
    expect(
      titles.some((title) => /: molar .*; canine/.test(title) && title.includes(`${shown(molar(both))} occlusal`)),
    ).toBe(true);
    expect(titles.some((title) => title.includes(`: molar ${shown(molar(spring))} gingival`))).toBe(true);
    expect(both.verdicts.map(({ outcome }) => outcome)).toEqual(['met', 'met']);
  });

  it('is told by name on hover, where the activation has carried it', async () => {
    const { further, analysis } = (await snapshotOf(text)).appliances[0];
    const [first, last] = further[0].analysis.stages.map(({ state }) => state!.wrenches[0].force[1]);
    expect(analysis!.stages).toHaveLength(2);
    expect(last / first).toBeCloseTo(0.18 / 0.2, 2);
    const share = formatQuantity({ value: last, dimension: FORCE });
    expect(await hoverAt('tip_back.molar.force.ging$0ival')).toContain(`${share} at 0.02 mm from neutral`);
    expect(await hoverAt('tip_back.molar.force.ging$0ival')).toContain('`tip_back.molar.force.gingival`, force');
    expect(await hoverAt('tip_back.wire.elastic$0_use')).toMatch(/`tip_back\.wire\.elastic_use`.*0 ?%|0\.\d+/);
    expect(await hoverAt('tip_b$0ack.molar')).toContain('auxiliary tip_back of held');
    const molar = await hoverAt('tube mol$0ar slot');
    expect(molar).toContain('**Of all wires on the tooth**');
    expect(molar).toContain(`**Share of \`tip_back\`**, at the centre of its own slot: ${share} gingival (intrudes)`);
    expect(await hoverAt('bracket can$0ine')).toContain('**Of the wire on the tooth**');
  });

  it('has names that are found and renamed wherever they stand', async () => {
    const snapshot = await snapshotOf(text);
    const lines = (marked: string) =>
      provideReferences(snapshot, at(marked), [snapshot], { includeDeclaration: true }).map(
        ({ range }) => range.start.line,
      );
    const uses = [lineOf('tip_back.molar'), lineOf('seat molar', auxiliaryLine), lineOf('tube molar', auxiliaryLine)];
    expect(lines('tip_back.mol$0ar.force')).toEqual(uses);
    expect(lines('tip_b$0ack.wire')).toEqual([lineOf('tip_back.molar'), lineOf('tip_back.wire'), auxiliaryLine]);
    const renamed = (marked: string, name: string) => {
      const result = provideRename(snapshot, at(marked), name, [snapshot]);
      if ('refusal' in result) throw new Error(result.refusal);
      return Object.values(result.changes ?? {}).flat();
    };
    expect(renamed('tip_back.mol$0ar.force', 'first').map(({ range }) => range.start.line)).toEqual(uses);
    expect(renamed('auxiliary tip_b$0ack', 'upright')).toHaveLength(3);
  });

  it('is outlined, folded and coloured', async () => {
    const snapshot = await snapshotOf(text);
    expect(provideDocumentSymbols(snapshot).map(({ name, detail }) => [name, detail])).toContainEqual([
      'tip_back',
      'auxiliary wire of held',
    ]);
    expect(provideFoldingRanges(snapshot).map(({ startLine }) => startLine)).toContain(auxiliaryLine);
    const { data } = provideSemanticTokens(snapshot);
    const types: string[] = [];
    let [line, character] = [0, 0];
    for (let k = 0; k < data.length; k += 5) {
      character = data[k] > 0 ? data[k + 1] : character + data[k + 1];
      line += data[k];
      const word = text.split('\n')[line].slice(character, character + data[k + 2]);
      if (line === auxiliaryLine || line === lineOf('tip_back.molar'))
        types.push(`${word} ${semanticTokenTypes[data[k + 3]]}`);
    }
    expect(types).toEqual([
      ...['tip_back class', 'molar attachment', 'force property', 'gingival property', '<= operator', '5 number'],
      ...['gf unit', 'auxiliary keyword', 'tip_back class', 'of keyword', 'held class', 'at keyword'],
      ...['molar attachment', '3 number', 'mm unit', 'gingival direction'],
    ]);
  });

  it('is laid out like an appliance', () => {
    expect(format(text)).toBe(text);
    const dense = text.replace(
      /auxiliary tip_back of held at molar 3 mm gingival \{\n/,
      'auxiliary  tip_back of held   at molar 3mm gingival{\n',
    );
    expect(format(dense)).toBe(text);
  });
});
