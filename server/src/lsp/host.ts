/** What the server needs from the runtime that carries it: Node or a web worker. */
export interface Host {
  /** Milliseconds of a steady clock. */
  now(): number;
  /** Runs a task once the messages that have already arrived are handled. */
  defer(task: () => void): void;
}
