/** References, highlights, rename and workspace symbols. */
import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { DocumentHighlightKind } from 'vscode-languageserver-types';
import { provideDocumentHighlights } from '#features/document-highlight';
import { provideReferences } from '#features/references';
import { prepareRename, provideRename } from '#features/rename';
import { provideWorkspaceSymbols } from '#features/workspace-symbols';
import { library } from '#library';
import type { SourceView } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import { fixtureUri, readFixture } from './fixture';
import { loop } from './samples';

const partsUri = 'file:///files/parts.spring';

/** A part in a file of its own, and two appliances that use it. */
const parts = `/// Out and back.
part step(height = 1 mm in 0.5 mm .. 3 mm) {
  bend 45 deg toward gingival
  straight height * 1.4
  bend 45 deg toward mesial
}
`;
const user = `use "./parts.spring"
use "alloys"

appliance one {
  wire round 0.016 in of steel
  param rise = 2 mm
  path running mesial {
    seat molar
    step(height = rise)
    straight rise
    seat canine
  }
  tube molar
  tube canine
}
`;

describe('references', () => {
  it('are marked in the file, the definition among them', async () => {
    await checkHighlights(`
use "alloys"
appliance one {
  wire round 0.016 in of steel
  param ri$0se = 2 mm
        ^^^^ write: rise
  path running mesial {
    seat molar
    straight rise
             ^^^^ read: rise
    straight 2 * rise + 1 mm
                 ^^^^ read: rise
    seat canine
  }
  tube molar
  tube canine
}
`);
  });

  it('of an attachment are its seat, its results and the activation that takes hold of it', async () => {
    await checkHighlights(
      loop
        .replace('    seat molar', '    seat mol$0ar\n         ^^^^^ read: molar')
        .replace('  tube molar slot', '  tube molar slot')
        .replace(/( {2}tube molar .*)/, '$1\n       ^^^^^ write: molar')
        .replace(/( {2}activation .*)/, '$1\n                          ^^^^^ read: molar'),
    );
  });

  it('go across files, whether asked for at a use or at the definition', async () => {
    const { snapshot, sources } = await open({ [fixtureUri]: user, [partsUri]: parts }, fixtureUri);
    const atUse = provideReferences(snapshot, place(user, 'ste$0p(height'), sources, { includeDeclaration: true });
    expect(atUse.map(({ uri, range }) => `${uri}:${range.start.line}`)).toEqual([`${fixtureUri}:8`, `${partsUri}:1`]);
    const inParts = await open({ [fixtureUri]: user, [partsUri]: parts }, partsUri);
    const position = place(parts, 'part step(hei$0ght');
    const uses = provideReferences(inParts.snapshot, position, inParts.sources, { includeDeclaration: false });
    expect(uses.map(({ uri, range }) => `${uri}:${range.start.line}`).sort()).toEqual([
      `${fixtureUri}:8`,
      `${partsUri}:3`,
    ]);
  });

  it('of a bundled name include its line in the library', async () => {
    const { snapshot, sources } = await open({ [fixtureUri]: user }, fixtureUri);
    const found = provideReferences(snapshot, place(user, 'of ste$0el'), sources, { includeDeclaration: true });
    expect(found.map(({ uri }) => uri)).toEqual([fixtureUri, 'springwright-library:/alloys.spring']);
  });
});

describe('rename', () => {
  it('changes a part and its parameters in every file', async () => {
    expect(await rename({ [fixtureUri]: user, [partsUri]: parts }, fixtureUri, 'ste$0p(height', 'jog')).toEqual({
      [fixtureUri]: user.replace('step(', 'jog('),
      [partsUri]: parts.replace('part step', 'part jog'),
    });
    expect(await rename({ [fixtureUri]: user, [partsUri]: parts }, fixtureUri, 'step(hei$0ght', 'rise')).toEqual({
      [fixtureUri]: user.replace('step(height', 'step(rise'),
      [partsUri]: parts.replaceAll('height', 'rise'),
    });
  });

  it('changes what a loop is called in the results', async () => {
    const renamed = loop.replace('as loop', 'as spring').replace('loop.leg_gap', 'spring.leg_gap');
    expect(await rename({ [fixtureUri]: loop }, fixtureUri, 'lo$0op.leg_gap', 'spring')).toEqual({
      [fixtureUri]: renamed,
    });
  });

  it('labels a loop that had its name from its part, and takes it along where the part is renamed', async () => {
    const plain = loop.replace(' as loop', '').replace('loop.leg_gap', 'vertical.leg_gap');
    expect(await rename({ [fixtureUri]: plain }, fixtureUri, 'vert$0ical.leg_gap', 'spring')).toEqual({
      [fixtureUri]: plain
        .replace('vertical(height = 8 mm)', 'vertical(height = 8 mm) as spring')
        .replace('vertical.leg_gap', 'spring.leg_gap'),
    });
    expect(await rename({ [fixtureUri]: plain }, fixtureUri, 'part verti$0cal', 'upright')).toEqual({
      [fixtureUri]: plain.replaceAll(/\bvertical\b(?! loop)/g, 'upright'),
    });
  });

  it('says why it cannot be done', async () => {
    const cases: readonly [string, string, RegExp][] = [
      ['of beta_tit$0anium', 'other', /bundled module "alloys"/],
      ['str$0aight height', 'other', /word of the language/],
      ['gin$0gival radius', 'other', /direction/],
      ['height = 8 m$0m', 'other', /unit/],
      ['canine.for$0ce.distal', 'other', /result/],
      ['gab$0le = 15', '2nd', /not a name/],
      ['gab$0le = 15', 'bend', /word of the language/],
      ['gab$0le = 15', 'canine', /taken in appliance.spring: see line \d+/],
      ['gab$0le = 15', 'vertical', /taken/],
    ];
    const { snapshot, sources } = await open({ [fixtureUri]: loop }, fixtureUri);
    for (const [where, newName, reason] of cases) {
      const result = provideRename(snapshot, place(loop, where), newName, sources);
      expect('refusal' in result ? result.refusal : JSON.stringify(result), where).toMatch(reason);
    }
  });

  it('prepares with the name as it is written', async () => {
    const { snapshot } = await open({ [fixtureUri]: loop }, fixtureUri);
    expect(prepareRename(snapshot, place(loop, 'preactivate ga$0ble'))).toMatchObject({ placeholder: 'gable' });
  });

  it('works while another line is broken', async () => {
    const broken = loop.replace('straight 3 mm', 'straight (3 mm');
    expect(await rename({ [fixtureUri]: broken }, fixtureUri, 'param ga$0ble', 'roof')).toEqual({
      [fixtureUri]: broken.replaceAll('gable', 'roof'),
    });
  });
});

describe('workspace symbols', () => {
  it('are the items of all files whose names hold the letters in order', async () => {
    const { sources } = await open({ [fixtureUri]: user, [partsUri]: parts }, fixtureUri);
    const names = (query: string) => provideWorkspaceSymbols(sources, query).map(({ name }) => name);
    expect(names('')).toEqual(expect.arrayContaining(['one', 'step', 'steel', 'closed_loop']));
    expect(names('stp')).toContain('step');
    expect(names('STEEL')).toContain('steel');
    expect(names('no_such_thing')).toEqual([]);
  });
});

async function open(files: Readonly<Record<string, string>>, uri: string) {
  const workspace = createWorkspace({ readFile: async (other) => files[other] });
  for (const [each, text] of Object.entries(files)) workspace.open(each, text, 1);
  const snapshot = await workspace.snapshot(uri);
  if (snapshot === undefined) throw new Error('The workspace lost an open document.');
  const all = [...Object.keys(files), ...[...library.keys()].map((name) => `springwright-library:/${name}.spring`)];
  const sources = await Promise.all(all.map((each) => workspace.source(each)));
  return { snapshot, sources: sources.filter((source): source is SourceView => source !== undefined) };
}

/** The files after the rename at `$0`. */
async function rename(files: Readonly<Record<string, string>>, uri: string, where: string, newName: string) {
  const { snapshot, sources } = await open(files, uri);
  const result = provideRename(snapshot, place(files[uri], where), newName, sources);
  if ('refusal' in result) throw new Error(result.refusal);
  return Object.fromEntries(
    Object.entries(files).map(([each, text]) => [
      each,
      TextDocument.applyEdits(TextDocument.create(each, 'springwright', 1, text), result.changes?.[each] ?? []),
    ]),
  );
}

/** Where `$0` stands in a piece of the text. */
function place(text: string, piece: string) {
  const at = text.indexOf(piece.replace('$0', ''));
  expect(at, piece).toBeGreaterThanOrEqual(0);
  return TextDocument.create('', '', 1, text).positionAt(at + piece.indexOf('$0'));
}

async function checkHighlights(marked: string): Promise<void> {
  const { text, cursor, expected } = readFixture(marked);
  const { snapshot } = await open({ [fixtureUri]: text }, fixtureUri);
  const found = provideDocumentHighlights(snapshot, cursor!).map(({ range, kind }) => ({
    range,
    kind: kind === DocumentHighlightKind.Write ? 'write' : 'read',
    text: TextDocument.create('', '', 1, text).getText(range),
  }));
  expect(found).toEqual(expected);
}
