/** A page of its own that shows one file: the preview's page, with its engine in the page itself. What sliders write stays there. */
import { defaultSettings } from '#features/settings';
import { createPreviewEngine } from '#preview/engine';
import type { MessageFromEngine } from '#preview/messages';
import type { MessageFromExtension, MessageToExtension, PreviewState } from '../src/preview-messages';
import { startPreview } from '../webview/preview';
import { createPreviewHost, type Engine, type Extension } from '../webview/preview-host';

/** What the page is made for; stands in it as JSON. */
interface HandoutContent {
  /** Of the file, for the heading. */
  readonly name: string;
  readonly text: string;
  readonly units: 'gf' | 'N';
  /** Texts of the files that it uses, by uri. */
  readonly modules: Readonly<Record<string, string>>;
  readonly uri: string;
}

const content: HandoutContent = JSON.parse(document.getElementById('handout')?.textContent ?? '{}');

/** Stands in for the editor. */
function fileInThePage({ uri, name, text: written, units, modules }: HandoutContent): Extension {
  let state: PreviewState | undefined;
  let tell: (message: MessageFromExtension) => void = () => {};
  let text = written;
  let version = 1;
  const answer = (message: MessageToExtension): void => {
    switch (message.type) {
      case 'ready':
        tell({ type: 'settings', uri, settings: { ...defaultSettings, units: { force: units } } });
        tell({ type: 'text', uri, version, text });
        tell({ type: 'document', uri, name });
        return;
      case 'readFile':
        tell({ type: 'file', uri: message.uri, text: modules[message.uri] });
        return;
      case 'edit':
        text = [...message.changes]
          .sort((a, b) => b.start - a.start)
          .reduce((all, { start, end, text: value }) => all.slice(0, start) + value + all.slice(end), text);
        version += 1;
        tell({ type: 'text', uri, version, text });
    }
  };
  return {
    getState: () => state,
    setState(next) {
      state = next;
    },
    post: (message) => queueMicrotask(() => answer(message)),
    listen(hear) {
      tell = hear;
    },
  };
}

function engineInThePage(): Engine {
  let tell: (message: MessageFromEngine) => void = () => {};
  const engine = createPreviewEngine(
    (message) => tell(message),
    (task) => setTimeout(task, 0),
  );
  return {
    post: (message) => engine.receive(message),
    listen(hear) {
      tell = hear;
    },
  };
}

/** The drawing's colours go by the editor's class for bright and dark. */
const dark = matchMedia('(prefers-color-scheme: dark)');
const showTheme = (): void => {
  document.body.className = dark.matches ? 'vscode-dark' : 'vscode-light';
};
dark.addEventListener('change', showTheme);
showTheme();

startPreview(createPreviewHost(fileInThePage(content), engineInThePage()));
