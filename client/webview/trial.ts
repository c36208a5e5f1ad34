/** Parameters as they are tried out: at once while a slider or a handle moves, and written into the text when it is let go. */

export interface Trial {
  /** What is being tried out, by name; undefined where nothing is. */
  readonly values: Readonly<Record<string, number>> | undefined;
  /** Still in the user's hand, or let go so lately that it is not written yet. */
  readonly moving: boolean;
  set(name: string, value: number): void;
  /** It is let go: its value is written once nothing more comes. */
  finish(name: string): void;
  /** The text's own value again. */
  cancel(name: string): void;
  /** Takes back what is tried out, unless it is still in someone's hand: the text has it now, or something else. */
  settle(): void;
  /** Something else is shown from now on: what was let go is written before. */
  leave(): void;
  /** `listen` is called with what a parameter is set to, wherever that was done. */
  onSet(listen: (name: string, value: number) => void): void;
}

/**
 * @param tryOut  called whenever there is something else to show
 * @param write  called with what is to stand in the text, as one edit
 */
export function createTrial(tryOut: () => void, write: (values: Record<string, number>) => void): Trial {
  const listeners: ((name: string, value: number) => void)[] = [];
  let values: Record<string, number> | undefined;
  let moving = false;
  let writing: { readonly name: string; readonly timer: ReturnType<typeof setTimeout> } | undefined;
  const stopWaiting = (): void => {
    clearTimeout(writing?.timer);
    writing = undefined;
  };
  const writeNow = (name: string): void => {
    stopWaiting();
    moving = false;
    if (values?.[name] !== undefined) write({ [name]: values[name] });
  };
  return {
    get values() {
      return values;
    },
    get moving() {
      return moving;
    },
    set(name, value) {
      stopWaiting();
      moving = true;
      values = { ...values, [name]: value };
      for (const listen of listeners) listen(name, value);
      tryOut();
    },
    finish(name) {
      stopWaiting();
      // Arrow keys let go at every press: one edit for a run of them.
      writing = { name, timer: setTimeout(() => writeNow(name), PAUSE) };
    },
    cancel(name) {
      stopWaiting();
      moving = false;
      const { [name]: _, ...others } = values ?? {};
      values = Object.keys(others).length > 0 ? others : undefined;
      tryOut();
    },
    settle() {
      // News of the text's own results must not take it out of the user's hand.
      if (!moving) values = undefined;
    },
    leave() {
      if (writing) writeNow(writing.name);
      moving = false;
      values = undefined;
    },
    onSet(listen) {
      listeners.push(listen);
    },
  };
}

/** ms */
const PAUSE = 250;
