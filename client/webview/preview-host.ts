/** What the preview's page talks to: the extension that it belongs to, and the engine that computes for it. */
import type { MessageFromEngine, MessageToEngine } from '#preview/messages';
import type { MessageFromExtension, MessageToExtension, PreviewState } from '../src/preview-messages';

/** A partner that messages go to and come from. */
export interface Partner<To, From> {
  post(message: To): void;
  /** For one listener, which hears everything that is said from then on. */
  listen(hear: (message: From) => void): void;
}

export type Extension = Partner<MessageToExtension, MessageFromExtension> & {
  getState(): PreviewState | undefined;
  setState(state: PreviewState): void;
};

export type Engine = Partner<MessageToEngine, MessageFromEngine>;

export type MessageFromPage =
  | Extract<MessageToExtension, { readonly type: 'ready' | 'reveal' }>
  | Extract<MessageToEngine, { readonly type: 'ask' | 'askBands' | 'write' }>;

export type MessageToPage =
  | Extract<MessageFromExtension, { readonly type: 'document' | 'cursor' }>
  | Extract<MessageFromEngine, { readonly type: 'changed' | 'answer' | 'bands' | 'failed' }>;

export type PreviewHost = Partner<MessageFromPage, MessageToPage> & Pick<Extension, 'getState' | 'setState'>;

/** Texts and settings go from the extension straight to the engine, and what it wants to read or write goes back. */
export function createPreviewHost(extension: Extension, engine: Engine): PreviewHost {
  return {
    getState: () => extension.getState(),
    setState: (state) => extension.setState(state),
    post(message) {
      if (message.type === 'ready' || message.type === 'reveal') extension.post(message);
      else engine.post(message);
    },
    listen(hear) {
      extension.listen((message) => {
        if (message.type === 'document' || message.type === 'cursor') {
          hear(message);
          return;
        }
        engine.post(message);
        if (message.type === 'text' || message.type === 'settings') hear({ type: 'changed', uri: message.uri });
      });
      engine.listen((message) => {
        if (message.type === 'readFile' || message.type === 'edit') extension.post(message);
        else hear(message);
      });
    },
  };
}
