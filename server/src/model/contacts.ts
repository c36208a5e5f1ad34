/** How a wire lies in an attachment, and what a load does, in the words in which hover, preview and report tell it. */
import type { EngagedState, FrictionBounds, LoadState, SeatedWithPlay } from '#core/analysis/analysis';
import type { ApplianceDesign, Load, LoadPlace } from '#core/design';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { type Effect, senses } from './effects';
import type { ResolvedAppliance } from './resolved';

/**
 * Wire that has slid by itself through an attachment that lets it, mm in the wire's own direction; undefined where it has
 * not. What a pull draws through is told as the activation's motion.
 */
export function slidThrough(
  { slid }: EngagedState,
  { attachments }: ApplianceDesign,
  attachment: number,
): number | undefined {
  const length = slid[attachment];
  if (attachments[attachment].lengthwise === 'held' || length === undefined) return undefined;
  return Math.abs(length) >= NOTABLE_LENGTH ? length : undefined;
}

/** mm, well below what can be seen or measured. */
const NOTABLE_LENGTH = 1e-4;

export interface TurnInSlot {
  readonly name: 'tip' | 'rotation' | 'torque';
  readonly order: 'first order' | 'second order' | 'third order';
  /** rad, about buccal, gingival or mesial of the slot */
  readonly angle: number;
}

/** By how much the wire stands turned in its slot: what play takes of a tip, a rotation and a torque. */
export function turnsInSlot({ turn: [torque, rotation, tip] }: SeatedWithPlay): readonly TurnInSlot[] {
  return [
    { name: 'tip', order: 'second order', angle: tip },
    { name: 'rotation', order: 'first order', angle: rotation },
    { name: 'torque', order: 'third order', angle: torque },
  ];
}

/** e.g. "its height on both sides, its depth on one side" */
export function touchPhrase({ touching: { height, depth, torque } }: SeatedWithPlay): string {
  const sides = (edges: number) => (edges > 1 ? 'on both sides' : 'on one side');
  const touched = [
    ...(height > 0 ? [`its height ${sides(height)}`] : []),
    ...(depth > 0 ? [`its depth ${sides(depth)}`] : []),
    ...(torque ? ['both walls in torque'] : []),
  ];
  return touched.length === 0 ? 'nothing' : touched.join(', ');
}

/** Between which friction lets a component be, in the sense in which it acts; undefined where it leaves nothing open. */
export function frictionBand(
  friction: readonly FrictionBounds[] | undefined,
  attachment: number,
  { kind, axis, name }: Pick<Effect, 'kind' | 'axis' | 'name'>,
): { readonly low: number; readonly high: number } | undefined {
  const bounds = friction?.[attachment];
  if (bounds === undefined) return undefined;
  const [least, most] = [bounds.least[kind][axis], bounds.most[kind][axis]];
  if (Math.abs(most - least) < NOTABLE[kind]) return undefined;
  return name === senses[kind][axis][1] ? { low: -most, high: -least } : { low: least, high: most };
}

/** N and N mm, below what a gauge shows. */
const NOTABLE = { force: 1e-4, moment: 1e-3 } as const;

/** Its own name, or what it is and between which places. */
export function loadName(load: Load, design: ApplianceDesign, appliance: Pick<ResolvedAppliance, 'marks'>): string {
  if (load.name !== undefined) return load.name;
  const [from, to] = [load.from, load.to].map((place) => placeName(place, design, appliance));
  return `${load.kind} ${from} to ${to}`;
}

export function placeName(
  place: LoadPlace,
  { attachments }: ApplianceDesign,
  { marks }: Pick<ResolvedAppliance, 'marks'>,
): string {
  if (place.on === 'attachment') return attachments[place.attachment].name;
  const mark = marks.find(({ station }) => station === place.station);
  return mark?.name ?? `${formatQuantity({ value: place.station, dimension: LENGTH })} along the wire`;
}

/** "pulls", "pushes" or "slack" */
export function loadSense({ force }: LoadState): 'pulls' | 'pushes' | 'slack' {
  if (Math.abs(force) < NOTABLE.force) return 'slack';
  return force > 0 ? 'pulls' : 'pushes';
}
