import { type Contacts, createContacts } from './supports/interior-point';

/**
 * What a wire's equilibria depend on besides the share of preactivation, as one list of amounts in mm. The first is the
 * activation's motion. Each of the others is wire that has slid through an attachment, in the wire's own direction; these find
 * their amounts by themselves, from the balance at the attachment (sliding-force.ts).
 */
export interface WireControls {
  readonly amounts: Float64Array;
  /** Per control: 0 slides both ways; 1 or -1: cinched, the amount times this is at least 0. */
  readonly oneWay: Int8Array;
  /** Per control, force, N, that friction adds against sliding in the wire's own direction. */
  readonly drag: Float64Array;
  /** Per control: 1 where the cinch holds the wire. */
  readonly caught: Uint8Array;
  /** Per control beyond the first, its attachment. */
  readonly attachments: readonly number[];
  readonly contacts: Contacts;
}

/** `sliding`: attachments that the wire slides through, with the way out where the wire is cinched behind them. */
export function createControls(
  sliding: readonly { readonly attachment: number; readonly oneWay: number }[],
): WireControls {
  const count = 1 + sliding.length;
  return {
    amounts: new Float64Array(count),
    oneWay: Int8Array.from([0, ...sliding.map(({ oneWay }) => oneWay)]),
    drag: new Float64Array(count),
    caught: new Uint8Array(count),
    attachments: sliding.map(({ attachment }) => attachment),
    contacts: createContacts(),
  };
}

/** The same controls at nought. */
export function freshControls({ attachments, oneWay }: WireControls): WireControls {
  return createControls(attachments.map((attachment, k) => ({ attachment, oneWay: oneWay[k + 1] })));
}
