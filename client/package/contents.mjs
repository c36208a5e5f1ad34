import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

/** Built files that the extension runs. */
const programs = [
  'dist/compare.js',
  'dist/extension.node.cjs',
  'dist/extension.web.js',
  'dist/preview-engine.js',
  'dist/preview.js',
  'dist/server.node.cjs',
  'dist/server.worker.js',
  'dist/springwright.cjs',
];

/** Everything of the checkout that an installed extension needs or that is to be read beside it. */
const files = [
  'CHANGELOG.md',
  'LICENSE',
  'README.md',
  'dist/DejaVu-LICENSE.txt',
  'dist/DejaVuSans-Bold.ttf',
  'dist/DejaVuSans.ttf',
  'dist/compare.css',
  'dist/handout.css',
  'dist/handout.js',
  'dist/preview.css',
  'dist/resvg.wasm',
  ...programs,
  'client/icons/extension.png',
  'client/icons/file-dark.svg',
  'client/icons/file-light.svg',
  'client/snippets/springwright.json',
  ...['appliance', 'figures', 'preview', 'requirements', 'share'].flatMap((name) =>
    ['dark', 'light'].map((theme) => `client/walkthrough/${name}-${theme}.svg`),
  ),
  'grammar/language-configuration.json',
  'grammar/spring.tmLanguage.json',
  'l10n/bundle.l10n.json',
  'package.json',
  'package.nls.json',
];

/**
 * The files of a VSIX package: the extension below `extension/`, the licences of what is bundled with it, and the two descriptions
 * that the format asks for.
 * @param {string} root A built checkout.
 * @returns {import('./zip.mjs').Entry[]} Throws where a file is missing.
 */
export function packageContents(root) {
  const manifest = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));
  return [
    { name: 'extension.vsixmanifest', data: Buffer.from(describe(manifest)) },
    { name: '[Content_Types].xml', data: Buffer.from(contentTypes) },
    ...files.map((name) => ({ name: `extension/${name}`, data: readFileSync(path.join(root, name)) })),
    { name: 'extension/THIRD-PARTY-LICENSES.txt', data: Buffer.from(bundledLicences(root)) },
  ];
}

/** @param {Record<string, any>} manifest */
function describe({ name, publisher, version, displayName, description, categories, engines }) {
  return `<?xml version="1.0" encoding="utf-8"?>
<PackageManifest Version="2.0.0" xmlns="http://schemas.microsoft.com/developer/vsx-schema/2011">
  <Metadata>
    <Identity Language="en-US" Id="${xmlText(name)}" Version="${xmlText(version)}" Publisher="${xmlText(publisher)}" />
    <DisplayName>${xmlText(displayName)}</DisplayName>
    <Description xml:space="preserve">${xmlText(description)}</Description>
    <Categories>${xmlText(categories.join(','))}</Categories>
    <Properties>
      <Property Id="Microsoft.VisualStudio.Code.Engine" Value="${xmlText(engines.vscode)}" />
      <Property Id="Microsoft.VisualStudio.Code.ExtensionKind" Value="workspace,web" />
    </Properties>
    <License>extension/LICENSE</License>
    <Icon>extension/client/icons/extension.png</Icon>
  </Metadata>
  <Installation><InstallationTarget Id="Microsoft.VisualStudio.Code" /></Installation>
  <Dependencies />
  <Assets>
    <Asset Type="Microsoft.VisualStudio.Code.Manifest" Path="extension/package.json" Addressable="true" />
    <Asset Type="Microsoft.VisualStudio.Services.Content.Details" Path="extension/README.md" Addressable="true" />
    <Asset Type="Microsoft.VisualStudio.Services.Content.Changelog" Path="extension/CHANGELOG.md" Addressable="true" />
    <Asset Type="Microsoft.VisualStudio.Services.Content.License" Path="extension/LICENSE" Addressable="true" />
    <Asset Type="Microsoft.VisualStudio.Services.Icons.Default" Path="extension/client/icons/extension.png" Addressable="true" />
  </Assets>
</PackageManifest>
`;
}

const contentTypes = `<?xml version="1.0" encoding="utf-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
  <Default Extension=".cjs" ContentType="application/javascript" />
  <Default Extension=".css" ContentType="text/css" />
  <Default Extension=".js" ContentType="application/javascript" />
  <Default Extension=".json" ContentType="application/json" />
  <Default Extension=".md" ContentType="text/markdown" />
  <Default Extension=".png" ContentType="image/png" />
  <Default Extension=".svg" ContentType="image/svg+xml" />
  <Default Extension=".ttf" ContentType="font/ttf" />
  <Default Extension=".txt" ContentType="text/plain" />
  <Default Extension=".vsixmanifest" ContentType="text/xml" />
  <Default Extension=".wasm" ContentType="application/wasm" />
  <Override PartName="/extension/LICENSE" ContentType="text/plain" />
</Types>
`;

/**
 * The licence texts of all packages that the bundler put into the programs; its source maps say which.
 * @param {string} root
 */
function bundledLicences(root) {
  const names = new Set(programs.flatMap((program) => bundledPackages(root, path.join(root, `${program}.map`))));
  const licences = [...names].sort().map((name) => `${name}\n\n${licenceOf(path.join(root, 'node_modules', name))}`);
  return `Springwright is built with the packages below.\n\n${licences.join(`\n${'-'.repeat(80)}\n\n`)}`;
}

/**
 * The innermost package of each source that is installed: some bring folders of that name along that are none.
 * @param {string} root
 * @param {string} sourceMap
 */
function bundledPackages(root, sourceMap) {
  const { sources } = JSON.parse(readFileSync(sourceMap, 'utf8'));
  return sources.flatMap((/** @type {string} */ source) => {
    const names = [...source.matchAll(/node_modules\/((?:@[^/]+\/)?[^/]+)/g)].map(([, name]) => name);
    return names.findLast((name) => existsSync(path.join(root, 'node_modules', name, 'package.json'))) ?? [];
  });
}

/**
 * The licence as the package brings it along. The Mozilla Public License asks instead that those who get a built form are told where
 * its source is (section 3.2).
 * @param {string} folder
 */
function licenceOf(folder) {
  const name = readdirSync(folder).find((file) => /^licen[cs]e/i.test(file));
  if (name) return `${readFileSync(path.join(folder, name), 'utf8').replaceAll('\r\n', '\n').trim()}\n`;
  const { license, repository } = JSON.parse(readFileSync(path.join(folder, 'package.json'), 'utf8'));
  const [, source] = /github\.com[:/](.+?)(?:\.git)?$/.exec(repository?.url ?? repository ?? '') ?? [];
  if (license === 'MPL-2.0' && source)
    return `Under the Mozilla Public License, version 2.0 (https://mozilla.org/MPL/2.0/). Its source: https://github.com/${source}\n`;
  throw new Error(`The package in ${folder} has no licence file, which the extension has to bring along.`);
}

/** @param {string} text */
const xmlText = (text) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
