/** How much of a Newton step on a wire its contacts allow. */
import { balance } from '../control-balance';
import type { HeldSpan } from '../held-span';
import { beginShares, type Contacts, settleContacts, shareWithin, TOWARDS_WALL, takeShare } from './interior-point';

/** What the last `takeContacts` found; `settled`: contacts need no further step. */
export const contact = { share: 1, settled: true };

/**
 * Chooses the share of a step, whose movement stands in the spans and which turns a node by `rotation` at most (rad), that leaves every
 * contact on its side of its wall; takes it at the contacts, and chooses what the next step aims at.
 */
export function takeContacts(spans: readonly HeldSpan[], contacts: Contacts, rotation: number): void {
  contact.share = 1;
  contact.settled = true;
  if (spans.every(({ laws }) => laws.length === 0)) return;
  let within = Number.POSITIVE_INFINITY;
  for (const { span, laws, drives } of spans) {
    for (const { support, gaps } of laws) {
      if (gaps.length === 0) continue;
      const at = 6 * span.supports!.nodes[support];
      for (let k = 0; k < 6; k++) moved[k] = span.movement[at + k];
      // Against the slot, which the motion may carry along.
      for (const { moved: carried, control } of drives) {
        if (!carried) continue;
        for (let k = 0; k < 3; k++) moved[3 + k] -= balance.change[control] * carried.shifts[3 * support + k];
      }
      for (const gap of gaps) within = Math.min(within, shareWithin(gap, moved));
    }
  }
  contact.share = Math.min(1, TOWARDS_WALL * within, MOST_TURN / rotation);
  beginShares();
  for (const { laws } of spans) for (const { gaps } of laws) for (const gap of gaps) takeShare(gap, contact.share);
  contact.settled = settleContacts(contacts, contact.share);
}

/** rad */
const MOST_TURN = 0.5;

const moved = new Float64Array(6);
