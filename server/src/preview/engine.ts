/**
 * Computes what the preview's page shows, in the page's own process, so that a drawing never waits for the way to the language
 * server and back: the same workspace as there, over the texts that the editor gives it.
 */
import { defaultSettings, type Settings } from '#features/settings';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';
import { previewContent, shownInPreview } from './content';
import type { MessageFromEngine, MessageToEngine, ParameterEditParams } from './messages';
import { parameterChanges, withValues } from './parameters';
import type { PreviewParams } from './view';

export interface PreviewEngine {
  receive(message: MessageToEngine): void;
}

/**
 * @param post  takes what it has to say
 * @param defer  runs a task once the messages that have already arrived are received
 */
export function createPreviewEngine(
  post: (message: MessageFromEngine) => void,
  defer: (task: () => void) => void,
): PreviewEngine {
  const workspace = createWorkspace({ readFile, trialsLater: true });
  const settings = new Map<string, Settings>();
  const versions = new Map<string, number>();
  const reading = new Map<string, ((text: string | undefined) => void)[]>();
  const finishing = new Set<string>();
  let asked = 0;

  function readFile(uri: string): Promise<string | undefined> {
    return new Promise((resolve) => {
      const waiting = reading.get(uri);
      if (waiting) waiting.push(resolve);
      else {
        reading.set(uri, [resolve]);
        post({ type: 'readFile', uri });
      }
    });
  }

  const settingsOf = (uri: string): Settings => settings.get(uri) ?? defaultSettings;

  const snapshotOf = ({
    uri,
    visits = false,
  }: Pick<PreviewParams, 'uri' | 'visits'>): Promise<Snapshot | undefined> => {
    const { units, severity } = settingsOf(uri);
    return workspace.snapshot(uri, units, severity, visits);
  };

  /** The document as if the parameters tried out had been written into it. */
  const shown = async (params: PreviewParams): Promise<Snapshot | undefined> => {
    const written = await snapshotOf(params);
    const changes = written ? changesOf(written, params) : [];
    return written && changes.length > 0
      ? workspace.tryOut(params.uri, withValues(written, changes), settingsOf(params.uri).units, params.visits ?? false)
      : written;
  };

  const pauseWhile = (going: () => boolean) => () => new Promise<boolean>((resolve) => defer(() => resolve(going())));

  /** What a trial activation would change comes once there is something to look at, and is given up for a newer text. */
  const finish = async (uri: string, snapshot: Snapshot): Promise<void> => {
    const { version, unfinished } = snapshot;
    const key = `${version} ${uri}`;
    if (unfinished.length === 0 || finishing.has(key)) return;
    finishing.add(key);
    const going = () => versions.get(uri) === version;
    const done = await workspace.finish(snapshot, pauseWhile(going)).finally(() => finishing.delete(key));
    if (done && going()) post({ type: 'changed', uri });
  };

  const answer = async (params: PreviewParams): Promise<void> => {
    const { uri } = params;
    asked += 1;
    try {
      const snapshot = await shown(params);
      const content = snapshot && previewContent(snapshot, params, settingsOf(uri));
      post({ type: 'answer', uri, content });
      if (snapshot && !params.values) await finish(uri, snapshot);
    } catch (error) {
      const failure = `The preview failed because of a mistake in Springwright, not in this file: ${error}.`;
      post({ type: 'answer', uri, failure });
    }
  };

  const answerBands = async (params: PreviewParams): Promise<void> => {
    asked += 1;
    const own = asked;
    const going = () => asked === own;
    const snapshot = await shown(params);
    if (!snapshot) return;
    const request = { ...shownInPreview(snapshot, params), pause: pauseWhile(going) };
    const spread = await workspace.withBands(snapshot, request);
    if (going())
      post({ type: 'bands', uri: params.uri, content: previewContent(spread, params, settingsOf(params.uri)) });
  };

  const write = async (params: ParameterEditParams): Promise<void> => {
    const snapshot = await snapshotOf(params);
    const changes = snapshot ? changesOf(snapshot, params) : [];
    if (!snapshot || changes.length === 0) {
      // What cannot be written is shown again as the text has it.
      post({ type: 'changed', uri: params.uri });
      return;
    }
    const edits = changes.map(({ span: { start, end }, text }) => ({ start, end, text }));
    post({ type: 'edit', uri: params.uri, version: snapshot.version, changes: edits });
  };

  return {
    receive(message) {
      const { type } = message;
      if (type === 'ask') void answer(message.params);
      else if (type === 'askBands') void answerBands(message.params);
      else if (type === 'write') void write(message.params);
      else if (type === 'settings') settings.set(message.uri, message.settings);
      else if (type === 'file') {
        const waiting = reading.get(message.uri) ?? [];
        reading.delete(message.uri);
        for (const resolve of waiting) resolve(message.text);
      } else {
        const { uri } = message;
        if (type === 'text') {
          versions.set(uri, message.version);
          workspace.open(uri, message.text, message.version);
        } else if (type === 'closed') {
          versions.delete(uri);
          workspace.close(uri);
        }
        const dependents = workspace.dependents(uri);
        if (type === 'fileChanged') workspace.forget(uri);
        for (const dependent of dependents) post({ type: 'changed', uri: dependent });
      }
    },
  };
}

function changesOf(
  { appliances, text }: Snapshot,
  { appliance, values }: Pick<PreviewParams, 'appliance' | 'values'>,
): ReturnType<typeof parameterChanges> {
  const shown = appliances.find((one) => one.appliance.name === appliance) ?? appliances[0];
  return shown && values ? parameterChanges(shown.appliance, values, text) : [];
}
