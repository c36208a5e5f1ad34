/** The preview's page in a panel of the editor; its engine is a worker, so that the page stays at hand while it computes. */
import type { MessageFromEngine } from '#preview/messages';
import type { MessageFromExtension, MessageToExtension, PreviewState } from '../src/preview-messages';
import { startPreview } from './preview';
import { createPreviewHost, type Engine, type Extension } from './preview-host';

declare function acquireVsCodeApi(): {
  postMessage(message: MessageToExtension): void;
  getState(): PreviewState | undefined;
  setState(state: PreviewState): void;
};

const editor = acquireVsCodeApi();

const extension: Extension = {
  getState: () => editor.getState(),
  setState: (state) => editor.setState(state),
  post: (message) => editor.postMessage(message),
  listen: (hear) => addEventListener('message', ({ data }: MessageEvent<MessageFromExtension>) => hear(data)),
};

/** A page of the editor may start a worker only from what it holds itself, so that the built file is read first. */
function workerEngine(address: string): Engine {
  const started = fetch(address)
    .then((response) => {
      if (!response.ok) throw new Error(`its file cannot be read (status ${response.status})`);
      return response.blob();
    })
    .then((script) => new Worker(URL.createObjectURL(script)));
  return {
    post: (message) => void started.then((worker) => worker.postMessage(message)).catch(() => {}),
    listen(hear) {
      const failed = (reason: string) =>
        hear({
          type: 'failed',
          failure: `What computes the preview cannot be started: ${reason}. Close the preview and open it again.`,
        });
      started.then(
        (worker) => {
          worker.onmessage = ({ data }: MessageEvent<MessageFromEngine>) => hear(data);
          worker.onerror = ({ message }) => failed(message);
        },
        (error: unknown) => failed(error instanceof Error ? error.message : String(error)),
      );
    },
  };
}

const { worker = '' } = document.getElementById('preview')?.dataset ?? {};
startPreview(createPreviewHost(extension, workerEngine(worker)));
