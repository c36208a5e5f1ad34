/**
 * What friction leaves open: with it the sliding force at an attachment may lie anywhere between the two states in which the
 * wire is about to slide one way or the other. Both are solved (Coulomb friction, with the normal forces of slot-friction.ts),
 * and with the frictionless state bound every component.
 */
import { type ApplianceDesign, pullWay } from '../design';
import { normalForces } from '../material/slot-friction';
import { apply, applyTransposed, type Vec3 } from '../math/vector';
import { advanceTo, motionOf, type WirePath } from '../mechanics/continuation';
import { setControls } from '../mechanics/held-span';
import { clear, remember } from '../mechanics/history';
import { restoreState, saveState, stateSize } from '../mechanics/span';
import type { WireControls } from '../mechanics/wire-controls';
import type { EngagedState, FrictionBounds, Wrench } from './analysis';
import { engagedState, type WireRecord } from './engaged-state';

export function hasFriction({ attachments }: ApplianceDesign): boolean {
  return attachments.some(({ friction, lengthwise }) => friction > 0 && lengthwise !== 'held');
}

/** A wire at an equilibrium, which may be dragged along its way and put back. */
export interface DraggedWire {
  readonly controls: WireControls;
  /** Finds the equilibrium under the drags as they are set, at the same motion; false where it does not. */
  readonly balance: () => boolean;
  readonly goBack: () => void;
}

/** The wire of an elastic path at its present equilibrium. */
export function draggedElastically(path: WirePath): DraggedWire {
  const { controls, spans, stiffness } = path;
  const kept = spans.map(({ span }) => {
    const into = new Float64Array(stateSize(span));
    saveState(span, into);
    return into;
  });
  const amounts = controls.amounts.slice();
  const motion = motionOf(path);
  return {
    controls,
    balance: () => advanceTo(path, motion).ok,
    goBack: () => {
      for (const [k, { span }] of spans.entries()) restoreState(span, kept[k]);
      controls.amounts.set(amounts);
      for (const held of spans) setControls(held, 1, amounts);
      path.stiffness = stiffness;
      clear(path.history);
      remember(path.history, spans, motion, controls);
    },
  };
}

/** At the wire's present equilibrium, which is left as it was; undefined where a bounding state is not found. */
export function frictionBounds(
  wire: DraggedWire,
  record: WireRecord,
  state: EngagedState,
): readonly FrictionBounds[] | undefined {
  const { design } = record;
  const bounding: EngagedState[] = [state];
  for (const sense of [1, -1]) {
    const found = aboutToSlide(wire, record, state, sense);
    if (found) bounding.push(found);
    setDrags(
      wire,
      record,
      design.attachments.map(() => 0),
    );
    wire.goBack();
  }
  if (bounding.length < 3) return undefined;
  return design.attachments.map((_, k) => boundsOf(bounding.map(({ wrenches }) => wrenches[k])));
}

/** The state in which all sliding is resisted in one sense; the drags follow from its own normal forces. */
function aboutToSlide(
  wire: DraggedWire,
  record: WireRecord,
  state: EngagedState,
  sense: number,
): EngagedState | undefined {
  const { motion } = state;
  const ways = slidingWays(record.design, state);
  let [now, last] = [state, Number.POSITIVE_INFINITY];
  let drags = record.design.attachments.map(() => 0);
  for (let k = 0; k < MOST_ROUNDS; k++) {
    const wanted = record.design.attachments.map(
      (_, a) => sense * ways[a] * frictionAt(record.design, now.wrenches[a], a),
    );
    // Halfway each time: the normal forces answer to the drags that they allow.
    const next = drags.map((drag, a) => (k === 0 ? 0.5 * wanted[a] : 0.5 * (drag + wanted[a])));
    const change = Math.max(...next.map((drag, a) => Math.abs(drag - drags[a])));
    drags = next;
    setDrags(wire, record, drags);
    if (!wire.balance()) return undefined;
    now = engagedState(record, motion, motion - state.activation, 0);
    const size = Math.max(LEAST_DRAG, ...drags.map(Math.abs));
    if (change < SAME_DRAG * size) return now;
    if (k > 8 && change > 2 * last) return undefined;
    last = change;
  }
  return undefined;
}

const MOST_ROUNDS = 40;
/** Relative, and N. */
const SAME_DRAG = 1e-3;
const LEAST_DRAG = 1e-3;

/** Way in which the wire slides through each attachment as it is activated, 1 in its own direction. */
function slidingWays({ attachments, activation }: ApplianceDesign, { slid }: EngagedState): readonly number[] {
  const motion = activation?.motion;
  if (motion?.kind === 'pull') return attachments.map(() => pullWay(motion));
  return slid.map((by) => (by < 0 ? -1 : 1));
}

function frictionAt({ attachments, section }: ApplianceDesign, { force, moment }: Wrench, k: number): number {
  const { friction, lengthwise, length, axes, slotAxes } = attachments[k];
  if (!(friction > 0) || lengthwise === 'held') return 0;
  const inSlot = (v: Vec3): Vec3 => applyTransposed(slotAxes, apply(axes, v));
  return friction * normalForces(inSlot(force), inSlot(moment), length, section.kind === 'round' ? 0 : section.width);
}

/** Forces, N, against sliding in the wire's own direction, per attachment. */
function setDrags({ controls }: DraggedWire, record: WireRecord, drags: readonly number[]): void {
  for (const [c, attachment] of controls.attachments.entries()) controls.drag[c + 1] = drags[attachment];
  for (const { held, supports, reversed } of record.spans) {
    for (const [k, { of }] of supports.entries()) {
      if (of.kind === 'load' || of.kind === 'edge') continue;
      held.laws[k].drag?.(reversed ? -drags[of.attachment] : drags[of.attachment]);
    }
  }
}

function boundsOf(wrenches: readonly Wrench[]): FrictionBounds {
  const each = (choose: (...values: number[]) => number): Wrench => {
    const pick = (part: 'force' | 'moment') =>
      [0, 1, 2].map((c) => choose(...wrenches.map((wrench) => wrench[part][c]))) as unknown as Vec3;
    return { force: pick('force'), moment: pick('moment') };
  };
  return { least: each(Math.min), most: each(Math.max) };
}
