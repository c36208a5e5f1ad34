/** What a path lays out as it is walked: the wire's pieces, its nominal frame, seats, marks and loops. */
import type { Attachment, Loop, Pose, Stock, WireElement } from '#core/design';
import type { Vec3 } from '#core/math/vector';
import type { BendStep, Span } from '#grammar/tree';
import type { Place } from '../expression/place';
import type { Recorder } from '../names/scope';
import type { Problem } from '../problem';
import type { Definition, Home, PathStep } from '../resolved';
import type { Site } from '../site';
import type { Tooth } from '../teeth';
import type { Wire } from '../wire';
import type { Directions, Turning } from './directions';

/** So that no file can hang the editor: far beyond what is bent by hand. The length is in mm; turns are those of one helix. */
export const LIMITS = { length: 500, turns: 30, elements: 2000, work: 20_000, repetitions: 500, depth: 24 } as const;

/**
 * The same of a whole file: appliances and variants, auxiliary wires of each, steps of all its parts, pieces of wire × activation
 * stages of all its appliances.
 */
export const FILE_LIMITS = { appliances: 100, auxiliaries: 8, partSteps: 60_000, solving: 100_000 } as const;

export interface Seat {
  readonly name: string;
  readonly span: Span;
  readonly station: number;
  /** Nominal pose of the wire's section frame. */
  readonly pose: Pose;
}

/** Grows as the path is walked. */
export interface Layout {
  /** The wire that is laid out now. */
  wire: Wire | undefined;
  /** The same where it is another than the appliance's own. */
  stock: Stock | undefined;
  /** Nominal pose of the wire's first point; an arch form that begins the path sets it. */
  start: Pose;
  readonly elements: WireElement[];
  readonly steps: PathStep[];
  readonly seats: Seat[];
  readonly marks: { readonly name: string; readonly station: number; readonly span: Span }[];
  readonly loops: (Loop & { readonly span: Span })[];
  pose: Pose;
  station: number;
  /** False once something was left out, so that the wire is not the one that is meant. */
  complete: boolean;
  /** False once a turn was left out, so that the frame's directions are not to be trusted. */
  oriented: boolean;
  /** Steps walked so far, against endless repetition. */
  work: number;
  stopped: boolean;
  /** Bends taken as preactivation on trial. */
  readonly asPreactivation: ReadonlySet<BendStep>;
}

/** The body that is being walked. */
export interface Surroundings {
  readonly place: Place;
  /** The file in which the body is written. */
  readonly home: Home;
  readonly directions: Directions;
  readonly turning: Turning;
  /** The item of the appliance's own path that this belongs to. */
  readonly pathSpan: Span | undefined;
  /** Parts around, outermost first. */
  readonly parts: readonly Definition[];
  /** Stations of this part's feet; undefined in an appliance's own path. */
  readonly feet: number[] | undefined;
  /** Attachments that a seat may name; undefined where a part is looked at by itself. */
  readonly attachments: ReadonlyMap<string, Definition> | undefined;
  readonly outermost: Outermost;
}

export interface Holder {
  readonly length: number;
  readonly contact: { readonly lengthwise: Attachment['lengthwise'] } | undefined;
  readonly tooth: Tooth | undefined;
}

/** Where the walk began: an appliance's path, or a part looked at by itself. */
export interface Outermost {
  readonly recorder: Recorder;
  readonly kind: 'path' | 'part';
  /** Where the appliance sits; undefined for a part looked at by itself. */
  readonly site: Site | undefined;
  /** What attachments hold, by name: how much wire they hold straight, mm, and the tooth they are on. */
  readonly holders: ReadonlyMap<string, Holder>;
  /** Takes the names of loops and marks that the appliance's own path defines. */
  define(definition: Definition): void;
  /** Whether the same finding has been made in that file already. */
  reported(uri: string, problem: Problem): boolean;
}

export function newLayout(start: Pose, wire: Wire | undefined, asPreactivation: ReadonlySet<BendStep>): Layout {
  return {
    wire,
    stock: undefined,
    start,
    elements: [],
    steps: [],
    seats: [],
    marks: [],
    loops: [],
    pose: start,
    station: 0,
    complete: true,
    oriented: true,
    work: 0,
    stopped: false,
    asPreactivation,
  };
}

/** Appends a piece of wire; nothing where it has neither length nor turn. A sharp corner, and a wire that is relieved, keep no stress of forming. */
export function append(layout: Layout, { forming, ...element }: WireElement): void {
  const { stock, wire } = layout;
  const empty = element.length === 0 && isZero(element.shape) && isZero(element.preactivation);
  if (empty) return;
  const stressed = forming && element.length > 0 && !wire?.stressRelieved;
  layout.elements.push({ ...element, ...(stock && { stock }), ...(stressed && { forming }) });
  layout.station += element.length;
}

function isZero(vector: Vec3): boolean {
  return vector[0] === 0 && vector[1] === 0 && vector[2] === 0;
}
