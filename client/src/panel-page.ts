/** A page in a panel: a shell that its script fills. */
import * as vscode from 'vscode';

/** Built files of the page, and its title. */
export interface PanelPage {
  readonly script: string;
  readonly style: string;
  readonly title: string;
  /** That the page's script runs beside itself, if it does. */
  readonly worker?: string;
}

/**
 * Nothing may be loaded or run but our own scripts and style sheet: no other origin, no inline style or handler, no eval, no
 * port. The page talks to the extension by messages only.
 */
export function renderPage(
  webview: vscode.Webview,
  extensionUri: vscode.Uri,
  { script, style, title, worker }: PanelPage,
): string {
  const resource = (name: string) => webview.asWebviewUri(vscode.Uri.joinPath(extensionUri, 'dist', name)).toString();
  const nonce = createNonce();
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${webview.cspSource}`,
    ...(worker ? [`connect-src ${webview.cspSource}`, 'worker-src blob:'] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="${resource(style)}">
<title>${title}</title>
</head>
<body>
<main id="${script.replace('.js', '')}"${worker ? ` data-worker="${resource(worker)}"` : ''}></main>
<script nonce="${nonce}" src="${resource(script)}"></script>
</body>
</html>`;
}

function createNonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

export function pageOptions(extensionUri: vscode.Uri): vscode.WebviewOptions {
  return { enableScripts: true, enableForms: false, localResourceRoots: [vscode.Uri.joinPath(extensionUri, 'dist')] };
}
