/** The preview's engine as a worker. */
import { createPreviewEngine } from '#preview/engine';
import type { MessageFromEngine, MessageToEngine } from '#preview/messages';

// Timers of a worker wait for some milliseconds; a message to itself comes right after those that have arrived.
const { port1, port2 } = new MessageChannel();
const tasks: (() => void)[] = [];
port1.onmessage = () => tasks.shift()?.();

const engine = createPreviewEngine(
  (message: MessageFromEngine) => self.postMessage(message),
  (task) => {
    tasks.push(task);
    port2.postMessage(undefined);
  },
);
self.onmessage = ({ data }: MessageEvent<MessageToEngine>) => engine.receive(data);
