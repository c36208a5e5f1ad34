/**
 * Contact of a wire with a slot that it has play in, or that it slides through while other things hold it: at the slot's two
 * edges across its height and its depth, and against turning about its own length. Contacts are stiff one-sided springs; the
 * wire's line at an edge is that of its node, which follows where the wire slides through (sliding-nodes.ts), carried on with its tangent
 * and curvature to second order as far as it has not.
 */
import type { Span } from '../span';
import {
  acrossLine,
  aheadOfNode,
  alongSlot,
  keepDirection,
  lineAt,
  PLACE,
  press,
  pressNode,
  type SlotPlace,
  turnAbout,
  turnBack,
  writePlace,
} from './contact-geometry';
import { type Contacts, createGap, nearlyFound, resisted, resistGap } from './interior-point';
import { pullAtNode, type SupportLaw } from './supports';

/** Stiffness of a contact, N/mm, and against turning, N mm: 10 N press in by 1e-5 mm, 100 N mm turn by 1e-6 rad. */
const CONTACT = 1e6;
const TURNING = 1e8;

/**
 * One edge, `along` mm from the slot's middle. `play`: how far the wire's line may leave the middle across height and depth, mm
 * (0: held both ways).
 */
export function slotEdge(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  along: number,
  play: { readonly height: number; readonly depth: number },
  contacts: Contacts,
): SupportLaw {
  const place = new Float64Array(PLACE);
  const gaps = [createGap(contacts, play.height, CONTACT, support), createGap(contacts, play.depth, CONTACT, support)];
  return {
    support,
    gaps,
    place: (share, motion) => writePlace(placeAt(share, motion), along, place),
    hold: (span, k) => {
      lineAt(span, span.supports!.nodes[k], place);
      for (let which = 0; which < 2; which++) {
        const away = acrossLine(place, 1 + which, gaps[which].row);
        resistGap(gaps[which], away);
        press(span, k, resisted.force, resisted.stiffness, nearlyFound(contacts));
      }
      return false;
    },
    ahead: (span, k) => aheadOfNode(span, span.supports!.nodes[k], place),
  };
}

/**
 * The slot's middle: holds the wire lengthwise at its seat (`held`), or only from being drawn in (1 or -1: the way out along the
 * slot), or not (0), and against turning about its length by more than `twist`, rad (undefined: not at all).
 */
export function slotMiddle(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  lengthwise: 'held' | 1 | -1 | 0,
  twist: number | undefined,
  contacts: Contacts,
): SupportLaw {
  const place = new Float64Array(PLACE);
  const gap = twist === undefined ? undefined : createGap(contacts, twist, TURNING, support);
  let caught = 0;
  let dragged = 0;
  return {
    support,
    gaps: gap ? [gap] : [],
    drag: (force) => {
      dragged = force;
    },
    place: (share, motion) => writePlace(placeAt(share, motion), 0, place),
    hold: (span, k) => {
      const node = span.supports!.nodes[k];
      let changed = false;
      if (dragged !== 0) dragAlong(span, k, dragged, place);
      if (lengthwise !== 0) {
        // Of the wire's seat, which the node has gone away from.
        const away = alongSlot(span, node, place) - span.supports!.slid[k];
        const side = lengthwise === 'held' ? 1 : lengthwise * away < 0 ? 1 : 0;
        if (side !== caught) changed = true;
        caught = side;
        if (side !== 0) pressNode(span, k, place, 0, CONTACT, nearlyFound(contacts));
      }
      if (gap) {
        const turned = turnAbout(span.rotation, 4 * node, place, gap.row);
        resistGap(gap, turned);
        turnBack(span, k, resisted.force, resisted.stiffness, nearlyFound(contacts));
      }
      return changed;
    },
    ...(lengthwise !== 'held' && {
      ahead: (span: Span, k: number) => {
        const by = aheadOfNode(span, span.supports!.nodes[k], place);
        const slid = span.supports!.slid[k];
        // Caught, it stays at its seat.
        return lengthwise * (slid + by) > 0 ? -slid : by;
      },
    }),
  };
}

/** A slot without length: holds the wire's direction as well, and its place across. */
export function guide(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  lengthwise: 'held' | 1 | -1 | 0,
  contacts: Contacts,
): SupportLaw {
  const edge = slotEdge(support, placeAt, 0, { height: 0, depth: 0 }, contacts);
  const middle = slotMiddle(support, placeAt, lengthwise, 0, contacts);
  const place = new Float64Array(PLACE);
  return {
    support,
    gaps: [],
    drag: middle.drag,
    ...(middle.ahead && { ahead: middle.ahead }),
    place: (share, motion) => {
      edge.place(share, motion);
      middle.place(share, motion);
      writePlace(placeAt(share, motion), 0, place);
    },
    hold: (span, k) => {
      edge.hold(span, k);
      const changed = middle.hold(span, k);
      keepDirection(span, k, place, TURNING);
      return changed;
    },
  };
}

/** A hook or eyelet. `slides`: its contact stays while the wire passes; otherwise it stays at the wire's mark. */
export function hookContact(
  support: number,
  placeAt: (share: number, motion: number) => SlotPlace,
  slides: boolean,
  tied: boolean,
  contacts: Contacts,
): SupportLaw {
  const edge = slotEdge(support, placeAt, 0, { height: 0, depth: 0 }, contacts);
  if (slides) return withDrag(edge, placeAt);
  const place = new Float64Array(PLACE);
  return {
    support,
    gaps: [],
    place: (share, motion) => writePlace(placeAt(share, motion), 0, place),
    hold: (span, k) => {
      for (let axis = tied ? 0 : 1; axis < 3; axis++) pressNode(span, k, place, axis, CONTACT, nearlyFound(contacts));
      return false;
    },
  };
}

function withDrag(law: SupportLaw, placeAt: (share: number, motion: number) => SlotPlace): SupportLaw {
  const place = new Float64Array(PLACE);
  let dragged = 0;
  return {
    support: law.support,
    gaps: law.gaps,
    ...(law.ahead && { ahead: law.ahead }),
    drag: (force) => {
      dragged = force;
    },
    place: (share, motion) => {
      law.place(share, motion);
      writePlace(placeAt(share, motion), 0, place);
    },
    hold: (span, k) => {
      if (dragged !== 0) dragAlong(span, k, dragged, place);
      return law.hold(span, k);
    },
  };
}

/** A constant force -`force` on the wire along the slot. */
function dragAlong(span: Span, k: number, force: number, place: Float64Array): void {
  pullAtNode(span, k, -force * place[3], -force * place[6], -force * place[9]);
}
