/** Settings as the editor has them now: asked once per document and again after every change. */
import type { Connection } from 'vscode-languageserver';
import { defaultSettings, type Settings, settingsFrom } from '#features/settings';

export interface LiveSettings {
  of(uri: string): Promise<Settings>;
  /** The editor's settings have changed, or the document has closed (`uri`). */
  forget(uri?: string): void;
}

export function createLiveSettings(connection: Connection, supported: () => boolean): LiveSettings {
  const known = new Map<string, Promise<Settings>>();
  return {
    of(uri) {
      if (!supported()) return Promise.resolve(defaultSettings);
      let settings = known.get(uri);
      if (settings === undefined) {
        settings = connection.workspace
          .getConfiguration({ scopeUri: uri, section: 'springwright' })
          .then(settingsFrom, () => defaultSettings);
        known.set(uri, settings);
      }
      return settings;
    },
    forget(uri) {
      if (uri === undefined) known.clear();
      else known.delete(uri);
    },
  };
}
