import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { inflateRawSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { SemanticTokenTypes } from 'vscode-languageserver-types';
import { semanticTokenTypes } from '#features/semantic-tokens';
import { defaultSettings } from '#features/settings';
import { packageContents } from '../../client/package/contents.mjs';
import { zip } from '../../client/package/zip.mjs';

const root = path.resolve(import.meta.dirname, '../..');

/** The package as VS Code's installer finds it: unpacked again from the archive. Needs a build, as `npm test` makes it. */
const packed = unzip(zip(packageContents(root)));
const manifest = JSON.parse(packed.get('extension/package.json')!.toString());

test('the package holds exactly what an installed extension needs', () => {
  expect([...packed.keys()].sort()).toEqual([
    '[Content_Types].xml',
    'extension.vsixmanifest',
    'extension/CHANGELOG.md',
    'extension/LICENSE',
    'extension/README.md',
    'extension/THIRD-PARTY-LICENSES.txt',
    'extension/client/icons/extension.png',
    'extension/client/icons/file-dark.svg',
    'extension/client/icons/file-light.svg',
    'extension/client/snippets/springwright.json',
    'extension/client/walkthrough/appliance-dark.svg',
    'extension/client/walkthrough/appliance-light.svg',
    'extension/client/walkthrough/figures-dark.svg',
    'extension/client/walkthrough/figures-light.svg',
    'extension/client/walkthrough/preview-dark.svg',
    'extension/client/walkthrough/preview-light.svg',
    'extension/client/walkthrough/requirements-dark.svg',
    'extension/client/walkthrough/requirements-light.svg',
    'extension/client/walkthrough/share-dark.svg',
    'extension/client/walkthrough/share-light.svg',
    'extension/dist/DejaVu-LICENSE.txt',
    'extension/dist/DejaVuSans-Bold.ttf',
    'extension/dist/DejaVuSans.ttf',
    'extension/dist/compare.css',
    'extension/dist/compare.js',
    'extension/dist/extension.node.cjs',
    'extension/dist/extension.web.js',
    'extension/dist/handout.css',
    'extension/dist/handout.js',
    'extension/dist/preview-engine.js',
    'extension/dist/preview.css',
    'extension/dist/preview.js',
    'extension/dist/resvg.wasm',
    'extension/dist/server.node.cjs',
    'extension/dist/server.worker.js',
    'extension/dist/springwright.cjs',
    'extension/grammar/language-configuration.json',
    'extension/grammar/spring.tmLanguage.json',
    'extension/l10n/bundle.l10n.json',
    'extension/package.json',
    'extension/package.nls.json',
  ]);
});

test('the package stays small: what it is downloaded as', () => {
  // Half of it is the renderer of pixels and its fonts. More than this is to be a decision.
  expect(zip(packageContents(root)).length).toBeLessThan(4.5e6);
});

test('every file that the manifest names is in the package', () => {
  const { languages, grammars, snippets, walkthroughs } = manifest.contributes;
  const named: string[] = [
    manifest.main,
    manifest.browser,
    manifest.icon,
    ...languages.flatMap(({ configuration, icon }: { configuration: string; icon: object }) => [
      configuration,
      ...Object.values(icon),
    ]),
    ...grammars.map((grammar: { path: string }) => grammar.path),
    ...snippets.map((file: { path: string }) => file.path),
    ...walkthroughs.flatMap(({ steps }: { steps: { media: { image: object } }[] }) =>
      steps.flatMap(({ media }) => Object.values(media.image)),
    ),
  ];
  expect(named).toHaveLength(28);
  for (const file of named) expect([...packed.keys()]).toContain(path.posix.join('extension', file));
});

test('every text of the manifest that is to be translated is there, and no other', () => {
  const texts = JSON.parse(packed.get('extension/package.nls.json')!.toString());
  const used = [...JSON.stringify(manifest).matchAll(/"%([\w.-]+)%"/g)].map(([, key]) => key);
  expect([...new Set(used)].sort()).toEqual(Object.keys(texts).sort());
});

test("every text of the extension's own that is to be translated is in its bundle, and no other", () => {
  const folder = path.join(root, 'client', 'src');
  const source = readdirSync(folder).map((name) => readFileSync(path.join(folder, name), 'utf8'));
  const used = source.flatMap((text) =>
    [...text.matchAll(/l10n\.t\(\s*'((?:[^'\\]|\\.)*)'/g)].map(([, words]) => words.replaceAll("\\'", "'")),
  );
  // Nothing is put together outside of it, where no translation finds it.
  expect(source.join().match(/l10n\.t\(/g)).toHaveLength(used.length);
  const bundle = JSON.parse(packed.get('extension/l10n/bundle.l10n.json')!.toString());
  expect(Object.keys(bundle).sort()).toEqual([...new Set(used)].sort());
  for (const [words, translated] of Object.entries(bundle)) expect(translated).toBe(words);
});

test('every built file that the extension names is in the package', () => {
  const source = ['extension.node', 'extension.web', 'preview-panel', 'compare-panel', 'built-files', 'check-task']
    .map((name) => readFileSync(path.join(root, 'client', 'src', `${name}.ts`), 'utf8'))
    .join();
  const named = source.match(
    /\b(server|springwright|preview|compare|handout|resvg|DejaVuSans(-Bold)?)\.(?:\w+\.)?(?:cjs|js|css|wasm|ttf)\b/g,
  );
  expect(named?.sort()).toEqual([
    'DejaVuSans-Bold.ttf',
    'DejaVuSans.ttf',
    'compare.css',
    'compare.js',
    'handout.css',
    'handout.js',
    'preview.css',
    'preview.js',
    'resvg.wasm',
    'server.node.cjs',
    'server.worker.js',
    'springwright.cjs',
  ]);
  for (const file of named!) expect([...packed.keys()]).toContain(`extension/dist/${file}`);
});

test('settings and colours that the manifest declares are those that the code knows', () => {
  const { configuration, semanticTokenTypes: declared, semanticTokenScopes: scopes } = manifest.contributes;
  const hints = Object.keys(configuration.properties).flatMap(
    (name) => /^springwright\.hints\.(\w+)$/.exec(name)?.[1] ?? [],
  );
  expect(hints.sort()).toEqual([...Object.keys(defaultSettings.hints), 'perLine'].sort());
  for (const kind of Object.keys(defaultSettings.hints)) {
    const { default: value } = configuration.properties[`springwright.hints.${kind}`];
    expect(value, kind).toBe(defaultSettings.hints[kind as keyof typeof defaultSettings.hints]);
  }
  expect(configuration.properties['springwright.hints.perLine'].default).toBe(defaultSettings.hintsPerLine);
  // The standard types are known to every editor (Language Server Protocol 3.17, "Semantic Tokens").
  const standard = Object.values(SemanticTokenTypes) as string[];
  const own = semanticTokenTypes.filter((type) => !standard.includes(type));
  expect(declared.map(({ id }: { id: string }) => id).sort()).toEqual([...own].sort());
  for (const type of own) expect(Object.keys(scopes[0].scopes)).toContain(type);
});

test('what is unpacked is what was built, byte for byte', () => {
  const files = [...packed].filter(([name]) => /^extension\/(dist|grammar)\//.test(name));
  expect(files).toHaveLength(18);
  for (const [name, data] of files) {
    expect(data.equals(readFileSync(path.join(root, name.replace('extension/', ''))))).toBe(true);
  }
});

test('the description names the extension as its manifest does', () => {
  const description = packed.get('extension.vsixmanifest')!.toString();
  const { name, publisher, version, engines } = manifest;
  expect(description).toContain(`Id="${name}" Version="${version}" Publisher="${publisher}"`);
  expect(description).toContain(`Id="Microsoft.VisualStudio.Code.Engine" Value="${engines.vscode}"`);
  for (const [, file] of description.matchAll(/<Asset [^>]*Path="([^"]+)"/g))
    expect([...packed.keys()]).toContain(file);
});

test('the licences of the bundled packages come along', () => {
  const licences = packed.get('extension/THIRD-PARTY-LICENSES.txt')!.toString();
  for (const name of ['chevrotain', 'vscode-languageclient', 'vscode-languageserver']) {
    expect(licences).toMatch(new RegExp(`^${name}\n\n.*(License|Copyright)`, 'm'));
  }
  // The one without a licence file is under a licence that asks for the place of its source instead.
  expect(licences).toMatch(
    /^@resvg\/resvg-wasm\n\n.*Mozilla Public License.*https:\/\/github\.com\/yisibl\/resvg-js$/m,
  );
});

test('the same files give the same archive', () => {
  const files = [{ name: 'a/ä.txt', data: Buffer.from('wire '.repeat(1000)) }];
  expect(zip(files).equals(zip(files))).toBe(true);
  expect(unzip(zip(files)).get('a/ä.txt')?.toString()).toBe('wire '.repeat(1000));
});

/** Reads an archive by its directory, as APPNOTE 4.3.12 lays it out, and checks each file's length and checksum. */
function unzip(archive: Buffer): Map<string, Buffer> {
  const end = archive.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  const files = new Map<string, Buffer>();
  let at = archive.readUInt32LE(end + 16);
  for (let left = archive.readUInt16LE(end + 10); left > 0; left--) {
    expect(archive.readUInt32LE(at)).toBe(0x02014b50);
    const nameLength = archive.readUInt16LE(at + 28);
    const name = archive.toString('utf8', at + 46, at + 46 + nameLength);
    const local = archive.readUInt32LE(at + 42);
    expect(archive.readUInt32LE(local)).toBe(0x04034b50);
    const start = local + 30 + archive.readUInt16LE(local + 26) + archive.readUInt16LE(local + 28);
    const data = inflateRawSync(archive.subarray(start, start + archive.readUInt32LE(at + 20)));
    expect(data.length).toBe(archive.readUInt32LE(at + 24));
    expect(crc32(data)).toBe(archive.readUInt32LE(at + 16));
    files.set(name, data);
    at += 46 + nameLength;
  }
  expect(at).toBe(end);
  return files;
}

/** ISO 3309's checksum, bit by bit. Check value: "123456789" gives cbf43926 (from memory; it is the usual one). */
function crc32(data: Uint8Array): number {
  let rest = 0xffffffff;
  for (const byte of data) {
    rest ^= byte;
    for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? 0xedb88320 : 0);
  }
  return ~rest >>> 0;
}

test("the checksum has the standard's check value", () => {
  expect(crc32(Buffer.from('123456789'))).toBe(0xcbf43926);
});
