/**
 * A wire in its attachments as stretches, each solved as one span: between attachments that clamp the wire, and from
 * the outermost of them to what else holds or pulls the wire beyond. What holds the wire without clamping it (a slot with play, a
 * hook that the wire runs past, a load) supports it along a stretch.
 */
import type { ApplianceDesign, Attachment } from '../design';

export interface SupportPlace {
  /** Along the wire, mm. */
  readonly station: number;
  readonly of:
    | { readonly kind: 'edge'; readonly attachment: number; readonly along: number }
    | { readonly kind: 'middle'; readonly attachment: number }
    | { readonly kind: 'hook'; readonly attachment: number }
    | { readonly kind: 'load'; readonly load: number; readonly end: 'from' | 'to' };
}

export interface Stretch {
  /** Attachments that hold its ends; undefined where nothing does. */
  readonly start: number | undefined;
  readonly end: number | undefined;
  /** Integrated against the wire's own direction. */
  readonly reversed: boolean;
  /** Stations of its lower and upper end, mm. */
  readonly low: number;
  readonly high: number;
  /** In the wire's own direction. */
  readonly supports: readonly SupportPlace[];
}

export function isPoint(attachment: Attachment): boolean {
  return attachment.fitting === 'hook' || attachment.fitting === 'eyelet';
}

/** Length of wire that an attachment holds straight on each side of its seat, mm. */
export function halfLength(attachment: Attachment): number {
  return isPoint(attachment) ? 0 : attachment.length / 2;
}

/** Whether the wire is held by more than clamps at its slots and points at its ends. */
export function isSupported(design: ApplianceDesign): boolean {
  const { attachments, loads } = design;
  return (
    loads.some(({ from, to }) => from.on === 'wire' || to.on === 'wire') ||
    attachments.some((attachment, k) => hasPlay(design, k) || (isPoint(attachment) && isInner(design, k))) ||
    attachments.some((attachment) => isPoint(attachment) && attachment.lengthwise === 'sliding') ||
    attachments.every(isPoint)
  );
}

/** An attachment that clamps the wire over its slot's length. One that the wire is drawn through has no play. */
export function clamps(design: ApplianceDesign, k: number): boolean {
  const attachment = design.attachments[k];
  if (isPoint(attachment) || hasPlay(design, k)) return false;
  return attachment.lengthwise === 'held' || isPulled(design, k) || !isSupported(design);
}

function hasPlay(design: ApplianceDesign, k: number): boolean {
  return design.attachments[k].play && !isPulled(design, k);
}

function isPulled({ activation }: ApplianceDesign, k: number): boolean {
  return activation?.motion.kind === 'pull' && activation.motion.attachment === k;
}

function isInner({ attachments }: ApplianceDesign, k: number): boolean {
  return k > 0 && k < attachments.length - 1;
}

/** Whether wire may slide past what supports it there. */
export function slidesPast({ attachments }: ApplianceDesign, of: SupportPlace['of']): boolean {
  if (of.kind === 'load') return false;
  return of.kind === 'edge' || attachments[of.attachment].lengthwise !== 'held';
}

/** In order along the wire. */
export function stretchesOf(design: ApplianceDesign): readonly Stretch[] {
  const { attachments } = design;
  const clamping = attachments.flatMap((_, k) => (clamps(design, k) ? [k] : []));
  const supports = isSupported(design) ? supportsOf(design) : [];
  const stretches: Stretch[] = [];
  const add = (from: number | undefined, to: number | undefined) => {
    const low =
      from === undefined ? Number.NEGATIVE_INFINITY : attachments[from].station + halfLength(attachments[from]);
    const high = to === undefined ? Number.POSITIVE_INFINITY : attachments[to].station - halfLength(attachments[to]);
    const inside = supports.filter(({ station }) => station >= low && station <= high);
    const outer = outerPoint(design, from, to, inside);
    const kept = inside.filter(({ of }) => outer === undefined || of.kind === 'load' || of.attachment !== outer);
    const ends = [...kept.map(({ station }) => station), ...(outer === undefined ? [] : [attachments[outer].station])];
    if (ends.length === 0 && (from === undefined || to === undefined)) return;
    const reversed = from === undefined && to !== undefined ? true : drawnAtStart(design, from, to, kept);
    const [first, last] = [from ?? (to === undefined ? undefined : outer), to ?? outer];
    stretches.push({
      start: reversed ? last : first,
      end: reversed ? first : last,
      reversed,
      low: from === undefined ? Math.min(...ends) : low,
      high: to === undefined ? Math.max(...ends) : high,
      supports: kept,
    });
  };
  for (let k = 0; k <= clamping.length; k++) add(clamping[k - 1], clamping[k]);
  return stretches;
}

/** The hook or eyelet that holds the outer end of a stretch, where nothing pulls on the wire beyond it. */
function outerPoint(
  { attachments }: ApplianceDesign,
  from: number | undefined,
  to: number | undefined,
  inside: readonly SupportPlace[],
): number | undefined {
  if ((from === undefined) === (to === undefined)) return undefined;
  const outer = from === undefined ? 0 : attachments.length - 1;
  if (outer === (from ?? to)) return undefined;
  const attachment = attachments[outer];
  if (!isPoint(attachment) || attachment.lengthwise === 'sliding') return undefined;
  const beyond = ({ station }: SupportPlace) =>
    from === undefined ? station < attachment.station : station > attachment.station;
  return inside.some(beyond) ? undefined : outer;
}

/** Where a span is supported along its way, what drives it has to be at its end. */
function drawnAtStart(
  { activation }: ApplianceDesign,
  from: number | undefined,
  to: number | undefined,
  supports: readonly SupportPlace[],
): boolean {
  return supports.length > 0 && from !== undefined && to !== undefined && activation?.motion.attachment === from;
}

function supportsOf(design: ApplianceDesign): readonly SupportPlace[] {
  const places: SupportPlace[] = [];
  for (const [k, attachment] of design.attachments.entries()) {
    if (isPoint(attachment)) {
      places.push({ station: attachment.station, of: { kind: 'hook', attachment: k } });
    } else if (!clamps(design, k)) {
      const half = halfLength(attachment);
      if (half > 0)
        places.push({ station: attachment.station - half, of: { kind: 'edge', attachment: k, along: -half } });
      places.push({ station: attachment.station, of: { kind: 'middle', attachment: k } });
      if (half > 0)
        places.push({ station: attachment.station + half, of: { kind: 'edge', attachment: k, along: half } });
    }
  }
  for (const [load, { from, to }] of design.loads.entries()) {
    if (from.on === 'wire') places.push({ station: from.station, of: { kind: 'load', load, end: 'from' } });
    if (to.on === 'wire') places.push({ station: to.station, of: { kind: 'load', load, end: 'to' } });
  }
  return places.sort((a, b) => a.station - b.station);
}
