/** The last equilibria of a path: to go back to, and to guess the next one from. */
import type { HeldSpan } from './held-span';
import { restoreState, saveState, stateSize } from './span';
import { layBeside } from './supports/supports';
import type { WireControls } from './wire-controls';

export interface History {
  /** Latest first: where on the path, the controls' amounts, and the spans' states. */
  readonly entries: { place: number; readonly amounts: Float64Array; readonly states: readonly Float64Array[] }[];
  /** How many of the entries hold something. */
  count: number;
}

/** Cubic extrapolation takes four. */
const LENGTH = 4;

export function createHistory(spans: readonly HeldSpan[], controls: WireControls): History {
  const entries = Array.from({ length: LENGTH }, () => ({
    place: 0,
    amounts: new Float64Array(controls.amounts.length),
    states: spans.map(({ span }) => new Float64Array(stateSize(span))),
  }));
  return { entries, count: 0 };
}

export function clear(history: History): void {
  history.count = 0;
}

export function remember(history: History, spans: readonly HeldSpan[], place: number, { amounts }: WireControls): void {
  const { entries } = history;
  const entry = entries.pop()!;
  entries.unshift(entry);
  entry.place = place;
  entry.amounts.set(amounts);
  for (let k = 0; k < spans.length; k++) saveState(spans[k].span, entry.states[k]);
  history.count = Math.min(history.count + 1, LENGTH);
}

/** Puts the spans and the amounts back to the latest equilibrium. */
export function recall(history: History, spans: readonly HeldSpan[], { amounts }: WireControls): void {
  const latest = history.entries[0];
  for (let k = 0; k < spans.length; k++) restoreState(spans[k].span, latest.states[k]);
  amounts.set(latest.amounts);
}

/**
 * Moves the spans, and the wire that slides, to the polynomial through the last equilibria at a new place, where those lie evenly enough for
 * it to mean something.
 */
export function extrapolate(
  history: History,
  spans: readonly HeldSpan[],
  place: number,
  { amounts }: WireControls,
): void {
  const used = usable(history, place);
  if (used < 2) return;
  const { entries } = history;
  for (let e = 0; e < used; e++) {
    weights[e] = 1;
    for (let f = 0; f < used; f++) {
      if (f !== e) weights[e] *= (place - entries[f].place) / (entries[e].place - entries[f].place);
    }
  }
  for (let c = 1; c < amounts.length; c++) {
    amounts[c] = 0;
    for (let e = 0; e < used; e++) amounts[c] += weights[e] * entries[e].amounts[c];
  }
  for (let k = 0; k < spans.length; k++) {
    const { u, rotation, position, supports, mesh } = spans[k].span;
    combine(entries, k, used, 0, u);
    combine(entries, k, used, u.length, rotation);
    combine(entries, k, used, u.length + rotation.length, position);
    for (let i = 0; i < rotation.length; i += 4) normalise(rotation, i);
    if (!supports) continue;
    combine(entries, k, used, u.length + rotation.length + position.length, supports.slid);
    layBeside(supports, mesh);
  }
}

const weights = new Float64Array(LENGTH);

/** How many of the latest entries lie on one way at distances comparable to the step ahead. */
function usable({ entries, count }: History, place: number): number {
  const ahead = place - entries[0].place;
  let used = 1;
  while (used < count) {
    const gap = entries[used - 1].place - entries[used].place;
    if (!(gap * ahead > 0) || Math.abs(gap) < 0.25 * Math.abs(ahead) || Math.abs(gap) > 4 * Math.abs(ahead)) break;
    used++;
  }
  return used;
}

function combine(entries: History['entries'], span: number, used: number, from: number, into: Float64Array): void {
  into.fill(0);
  for (let e = 0; e < used; e++) {
    const state = entries[e].states[span];
    const weight = weights[e];
    for (let i = 0; i < into.length; i++) into[i] += weight * state[from + i];
  }
}

function normalise(q: Float64Array, at: number): void {
  const size = 1 / Math.sqrt(q[at] ** 2 + q[at + 1] ** 2 + q[at + 2] ** 2 + q[at + 3] ** 2);
  for (let k = 0; k < 4; k++) q[at + k] *= size;
}
