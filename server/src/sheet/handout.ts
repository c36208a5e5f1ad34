/** A self-contained page: one file's appliances with everything that computes and draws them, without a server or a network. */
import { escapeText } from '#drawing/svg';

export interface HandoutParts {
  /** Of the file. */
  readonly name: string;
  readonly text: string;
  readonly units: 'gf' | 'N';
  readonly modules: Readonly<Record<string, string>>;
  readonly uri: string;
  /** Built: what computes and draws, and how it looks. */
  readonly script: string;
  readonly style: string;
}

/** Nothing is loaded, and only the page's own script runs: its hash stands in the policy. */
export async function handoutPage({ script, style, ...content }: HandoutParts): Promise<string> {
  // Neither may end its element early.
  const code = script.replaceAll('</script', '<\\/script');
  const css = `${themeCss}\n${style}`.replaceAll('</style', '<\\/style');
  const [codeHash, styleHash] = await Promise.all([code, css].map(sha256));
  const json = JSON.stringify(content).replaceAll('<', '\\u003c');
  const policy = `default-src 'none'; script-src 'sha256-${codeHash}'; style-src 'sha256-${styleHash}'; base-uri 'none'; form-action 'none'`;
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeText(content.name)}</title>`,
    `<style>${css}</style>`,
    '</head>',
    '<body>',
    '<main id="preview"></main>',
    `<script type="application/json" id="handout">${json}</script>`,
    `<script>${code}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

async function sha256(text: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return btoa(String.fromCharCode(...new Uint8Array(digest)));
}

/** Grounds and inks that an editor's theme would give, for bright and dark surroundings. */
const themeCss = `:root {
  color-scheme: light dark;
  --vscode-editor-background: light-dark(#ffffff, #1f2328);
  --vscode-editor-foreground: light-dark(#24292f, #e6e9ec);
  --vscode-descriptionForeground: light-dark(#57606a, #a3adb8);
  --vscode-panel-border: light-dark(#d0d7de, #3d444d);
  --vscode-focusBorder: light-dark(#0969da, #4493f8);
  --vscode-textLink-foreground: light-dark(#0969da, #4493f8);
  --vscode-dropdown-background: light-dark(#f6f8fa, #2d333b);
  --vscode-dropdown-foreground: light-dark(#24292f, #e6e9ec);
  --vscode-input-background: light-dark(#ffffff, #22272e);
  --vscode-input-foreground: light-dark(#24292f, #e6e9ec);
  --vscode-input-border: light-dark(#d0d7de, #444c56);
  --vscode-font-family: system-ui, "Segoe UI", "DejaVu Sans", sans-serif;
  --vscode-font-size: 14px;
}`;
