/** The page of the preview: a shell that its script fills. */
import * as vscode from 'vscode';

/**
 * Nothing may be loaded or run but our own script and style sheet: no other origin, no inline style or handler, no eval, no
 * port. The page talks to the extension by messages only.
 */
export function renderPreviewPage(webview: vscode.Webview, extensionUri: vscode.Uri): string {
  const resource = (name: string) => webview.asWebviewUri(vscode.Uri.joinPath(extensionUri, 'dist', name)).toString();
  const nonce = createNonce();
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${webview.cspSource}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="stylesheet" href="${resource('preview.css')}">
<title>Springwright preview</title>
</head>
<body>
<main id="preview"></main>
<script nonce="${nonce}" src="${resource('preview.js')}"></script>
</body>
</html>`;
}

function createNonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
