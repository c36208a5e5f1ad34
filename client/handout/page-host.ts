/** The host that the preview's page has in a handout: the server's work done in the page itself. What sliders write stays there. */
import { defaultSettings } from '#features/settings';
import { previewContent } from '#lsp/preview';
import { parameterChanges, withValues } from '#lsp/preview-parameters';
import type { PreviewParams } from '#lsp/protocol';
import { createWorkspace } from '#workspace/workspace';
import type { MessageFromPage, MessageToPage, PreviewState } from '../src/preview-messages';

/** What the page is made for; stands in it as JSON. */
export interface HandoutContent {
  /** Of the file, for the heading. */
  readonly name: string;
  readonly text: string;
  readonly units: 'gf' | 'N';
  /** Texts of the files that it uses, by uri. */
  readonly modules: Readonly<Record<string, string>>;
  readonly uri: string;
}

const content: HandoutContent = JSON.parse(document.getElementById('handout')?.textContent ?? '{}');
const { uri, name, modules } = content;
const settings = { ...defaultSettings, units: { force: content.units } };
const workspace = createWorkspace({ readFile: async (asked) => modules[asked] });
let text = content.text;
let version = 1;
workspace.open(uri, text, version);

let state: PreviewState | undefined;
const post = (message: MessageToPage): void => window.postMessage(message, '*');

/** As an editor gives it to the preview's page. */
const host = {
  getState: () => state,
  setState(next: PreviewState) {
    state = next;
  },
  postMessage(message: MessageFromPage) {
    void receive(message);
  },
};
Object.assign(window, { acquireVsCodeApi: () => host });

async function receive(message: MessageFromPage): Promise<void> {
  switch (message.type) {
    case 'ready':
      post({ type: 'document', uri, name });
      return;
    case 'ask':
      post({ type: 'answer', uri, content: await answer(message.params) });
      return;
    case 'askBands': {
      const snapshot = await workspace.snapshot(uri, settings.units);
      const spread = snapshot && (await workspace.withBands(snapshot, message.params));
      if (spread) post({ type: 'bands', uri, content: previewContent(spread, message.params, settings) });
      return;
    }
    case 'write':
      text = (await changed(message.params)) ?? text;
      version += 1;
      workspace.open(uri, text, version);
      post({ type: 'changed', uri });
  }
}

async function answer(params: PreviewParams) {
  const snapshot = await workspace.snapshot(uri, settings.units);
  const tried = params.values ? await changed(params) : undefined;
  const shown = tried === undefined ? snapshot : await workspace.tryOut(uri, tried, settings.units);
  return shown && previewContent(shown, params, settings);
}

/** The text with parameters as given; undefined where nothing of it changes. */
async function changed({ appliance, values = {} }: Pick<PreviewParams, 'appliance' | 'values'>) {
  const snapshot = await workspace.snapshot(uri, settings.units);
  const shown = snapshot?.appliances.find((one) => one.appliance.name === appliance) ?? snapshot?.appliances[0];
  const changes = snapshot && shown ? parameterChanges(shown.appliance, values, snapshot.text) : [];
  return snapshot && changes.length > 0 ? withValues(snapshot, changes) : undefined;
}

/** The drawing's colours go by the editor's class for bright and dark. */
const dark = matchMedia('(prefers-color-scheme: dark)');
const showTheme = (): void => {
  document.body.className = dark.matches ? 'vscode-dark' : 'vscode-light';
};
dark.addEventListener('change', showTheme);
showTheme();
