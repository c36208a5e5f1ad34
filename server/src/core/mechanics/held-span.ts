/**
 * A span with its ends held, under the wire's controls: the share of preactivation that is bent in (the attachments
 * go from the nominal seats to their own poses along with it) and what its drives follow (wire-controls.ts).
 */
import type { EndCondition } from './end-conditions';
import { armLength, setArm, shapeMesh } from './mesh';
import type { Span } from './span';
import type { MovedSupports } from './supports/moved-supports';
import { holdNode, layBeside, type SupportLaw } from './supports/supports';

/** What one of the wire's controls does to this span. */
export interface Drive {
  /** The start arm or the end arm is drawn out of the span, or the end moves, or supports on the way do (the end as well). */
  readonly kind: 'draw-start' | 'draw-end' | 'move-end' | 'move-supports';
  readonly control: number;
  /** Of it per mm of the control: 1 or -1. */
  readonly sign: number;
  /** Force along it is this direction · n, in the span's frame. */
  readonly force: Float64Array;
  /** Its balance is that of a wire free to slide through the slot (sliding-force.ts), not of the force along it alone. */
  readonly slides: boolean;
  /** du per mm of it, and derivative of its force by u: 6 numbers each. */
  readonly rate: Float64Array;
  readonly gradient: Float64Array;
  /** Of `move-supports`, and of `draw-start` where supports stand on the way. */
  readonly moved?: MovedSupports;
  /** Amount of the control at which the span stands, mm. */
  amount: number;
}

export interface HeldSpan {
  readonly span: Span;
  readonly end: EndCondition;
  readonly drives: readonly Drive[];
  /** What its supports go by. */
  readonly laws: readonly SupportLaw[];
  /** Sets the end's target for a share of preactivation, without the motion. */
  readonly placeEnd: (share: number, end: EndCondition) => void;
  share: number;
  /** Of the activation at which it stands, mm. */
  motion: number;
  /** Newton step at given controls: 6 numbers. */
  readonly change: Float64Array;
}

/** Sets the controls: intrinsic shape, arms, the end's target and what the supports go by. */
export function setControls(held: HeldSpan, share: number, amounts: Float64Array): void {
  const { mesh } = held.span;
  const shaped = share !== held.share;
  if (shaped) shapeMesh(mesh, share);
  placeControls(held, share, amounts, shaped, (at, by) => setArm(mesh, at, armLength(mesh, at) - by));
}

/**
 * The same once its intrinsic shape is set for that share, which it had not been before where it is `shaped`; `drawOut` draws an arm
 * out of the span by as many mm in all.
 */
export function placeControls(
  held: HeldSpan,
  share: number,
  amounts: Float64Array,
  shaped: boolean,
  drawOut: (at: 'start' | 'end', by: number) => void,
): void {
  const { span, drives, laws } = held;
  let changed = shaped || held.motion !== amounts[0];
  for (const drive of drives) changed ||= drive.amount !== amounts[drive.control];
  if (!changed) return;
  held.share = share;
  held.motion = amounts[0];
  for (const law of laws) law.place(share, amounts[0]);
  held.placeEnd(share, held.end);
  for (const drive of drives) {
    drive.amount = amounts[drive.control];
    const by = drive.sign * drive.amount;
    if (drive.kind === 'draw-start') drawOut('start', by);
    else if (drive.kind === 'draw-end') drawOut('end', by);
    else for (let k = 0; k < 3; k++) held.end.position[k] += by * held.end.rate[k];
  }
  if (span.supports) layBeside(span.supports, span.mesh);
}

/**
 * Wrench and stiffness of its supports as the wire stands; true where one takes hold of the wire, or lets go of it, other than
 * before. `holding`, N mm and N/mm, holds every supported node where it is besides.
 */
export function takeSupports({ span, laws }: HeldSpan, holding = 0): boolean {
  if (laws.length === 0) return false;
  const { nodes, wrench, stiffness } = span.supports!;
  wrench.fill(0);
  stiffness.fill(0);
  if (holding > 0) for (let k = 0; k < nodes.length; k++) holdNode(span, k, holding, holding);
  let changed = false;
  for (const law of laws) if (law.hold(span, law.support)) changed = true;
  return changed;
}

/** The drive that follows the activation's motion. */
export function activationDrive({ drives }: HeldSpan): Drive | undefined {
  return drives.find(({ control }) => control === 0);
}
