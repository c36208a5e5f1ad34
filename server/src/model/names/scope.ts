/** Names in reach at a place: the innermost scope first, then what surrounds it. */
import type { Span } from '#grammar/tree';
import type { Value } from '../expression/value';
import type { Problem } from '../problem';
import type { Definition } from '../resolved';

/** A definition together with its value here, where it has one. */
export interface Named {
  readonly definition: Definition;
  /** Absent for what has no value (a part, an alloy …) and where working it out went wrong. */
  value(): Value | undefined;
}

export interface Scope {
  readonly own: Map<string, Named>;
  readonly parent: Scope | undefined;
}

/** What comes up while names are looked up and expressions evaluated. */
export interface Recorder {
  problem(problem: Problem): void;
  reference(span: Span, definition: Definition): void;
  evaluated(span: Span, value: Value): void;
}

export function innerScope(parent: Scope | undefined): Scope {
  return { own: new Map(), parent };
}

/**
 * The innermost definition of one of the kinds; where there is none, the innermost of any kind. A loop may
 * bear the name of the part that it comes from.
 */
export function find(scope: Scope | undefined, name: string, kinds: readonly Definition['kind'][]): Named | undefined {
  let other: Named | undefined;
  for (let at = scope; at; at = at.parent) {
    const named = at.own.get(name);
    if (named && kinds.includes(named.definition.kind)) return named;
    other ??= named;
  }
  return other;
}

/** Every name in reach whose definition is of one of the kinds (all kinds where none is given). */
export function namesInReach(scope: Scope | undefined, kinds?: readonly Definition['kind'][]): string[] {
  const names = new Set<string>();
  for (let at = scope; at; at = at.parent) {
    for (const [name, { definition }] of at.own) if (!kinds || kinds.includes(definition.kind)) names.add(name);
  }
  return [...names];
}

/** Most values that may wait for each other: far beyond any design, and well within the machine's stack. */
export const LONGEST_CHAIN = 50;

/** Values that are being worked out, each waiting for the next. */
let waiting = 0;

/**
 * A value worked out when first asked for. `undefined` with `onCycle` called where it depends on itself, and with `onTooDeep`
 * where it is at the end of too long a chain.
 */
export function lazily<T>(
  compute: () => T | undefined,
  onCycle: () => void,
  onTooDeep: () => void = () => {},
): () => T | undefined {
  let state: 'new' | 'busy' | 'done' = 'new';
  let result: T | undefined;
  return () => {
    if (state === 'busy') {
      onCycle();
      return undefined;
    }
    if (state === 'new') {
      state = 'busy';
      waiting += 1;
      try {
        if (waiting > LONGEST_CHAIN) onTooDeep();
        else result = compute();
      } finally {
        waiting -= 1;
      }
      state = 'done';
    }
    return result;
  };
}

/** Records nothing. */
export const SILENT: Recorder = { problem() {}, reference() {}, evaluated() {} };

/** Records problems, but neither uses nor values: for what is gone through again. */
export function problemsOnly(recorder: Recorder): Recorder {
  return { ...SILENT, problem: (problem) => recorder.problem(problem) };
}
