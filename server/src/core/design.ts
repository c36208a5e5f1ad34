/**
 * The resolved design: everything the mechanics needs to know about one appliance, as numbers.
 *
 * Units throughout: mm, N, N mm, MPa, rad. The frame is the quadrant frame of an upper right
 * quadrant, right-handed: x mesial, y gingival, z buccal. Its origin is the nominal place of the
 * first seat (or the start of the wire where there is no seat).
 */
import type { UniaxialLaw } from './material/uniaxial-law';
import type { Mat3, Vec3 } from './math/vector';

/** Where something stands and how it is turned. */
export interface Pose {
  /** mm */
  readonly position: Vec3;
  /** Columns are the local axes in the outer frame. */
  readonly axes: Mat3;
}

/**
 * A piece of wire between two stations, or (length 0) a sharp corner.
 *
 * `shape` and `preactivation` are the total turns over the piece as rotation vectors in the wire's
 * own section frame (tangent, up, side), rad; each is spread evenly over the length, so that a
 * piece has constant curvature `turn / length`.
 */
export interface WireElement {
  readonly length: number;
  readonly shape: Vec3;
  readonly preactivation: Vec3;
  /** What the wire is made of here, where that is another than the design's own. */
  readonly stock?: Stock;
  /** Bent cold and not stress relieved; without it the piece is free of stress in its own shape. */
  readonly forming?: Forming;
}

/** How a bend came to its turn. */
export interface Forming {
  /** What it was first bent to, over its own turn: above 1 where it was then bent back. */
  readonly furthest: number;
}

/** Wire of one section and alloy; `count` of them side by side, unbonded, share what one would bear. */
export interface Stock {
  readonly section: Section;
  readonly alloy: Alloy;
  readonly count: number;
}

/** Rectangular (height along the section's up axis, width along its side axis) or round, mm. */
export type Section =
  | { readonly kind: 'rectangle'; readonly height: number; readonly width: number; readonly cornerRadius: number }
  | { readonly kind: 'round'; readonly diameter: number };

export interface Alloy {
  readonly name: string;
  /** Modulus of elasticity, MPa. */
  readonly modulus: number;
  readonly poisson: number;
  /** Yield strength, MPa; of a superelastic alloy, its loading plateau. */
  readonly yield: number;
  /** What it does beyond; without one the wire is taken as elastic throughout. */
  readonly law?: UniaxialLaw;
  /** Smallest usual inner bend radius, in thicknesses (handbook section 8). */
  readonly smallestInnerRadius: number;
}

/**
 * A tube or bracket clamps the wire straight over `length`, or, with `play`, touches it at the four edges of its slot; a
 * hook or eyelet holds its point only.
 */
export interface Attachment {
  readonly name: string;
  readonly fitting: 'tube' | 'bracket' | 'hook' | 'eyelet';
  /** Station of the seat along the wire from its start, mm. */
  readonly station: number;
  /** Wire held straight by the slot, mm, centred on the seat; 0 for a point. */
  readonly length: number;
  /** Inner size of the slot, mm, where it is given. */
  readonly slot?: { readonly height: number; readonly depth: number };
  /** Pose of the wire's section frame (tangent, up, side) when it sits in the slot's middle. */
  readonly seatedWire: Pose;
  /** The slot's own axes (mesial, gingival, buccal, turned by tip, rotation and torque). */
  readonly slotAxes: Mat3;
  /** Axes in which results are reported: the tooth's mesial, gingival, buccal. */
  readonly axes: Mat3;
  /** A hook or eyelet that also holds the wire along its mesial axis. */
  readonly tied: boolean;
  /**
   * Lengthwise a tube or bracket holds the wire at its seat, lets it slide, or (cinched: the end is turned over behind the
   * first or last attachment) lets it slide back but not out. A hook or eyelet along which the wire slides stays where
   * the wire passes it; otherwise it stays at the wire's mark.
   */
  readonly lengthwise: 'held' | 'sliding' | 'cinched';
  /** The wire touches the slot's edges on one side or two instead of being clamped; needs `slot`, and `length` above 0. */
  readonly play: boolean;
  /** Coefficient of friction where the wire slides; bounds the sliding force. */
  readonly friction: number;
}

/** A mark on the wire, or the middle of an attachment's slot. */
export type LoadPlace =
  | { readonly on: 'wire'; readonly station: number }
  | { readonly on: 'attachment'; readonly attachment: number };

/**
 * Something stretched between two places that pulls them together along the line between them (N), or, as a coil spring
 * shorter than at rest, pushes them apart. An elastic or ligature that is not stretched is slack.
 */
export interface Load {
  readonly name?: string;
  readonly kind: 'elastic' | 'coil' | 'ligature';
  readonly from: LoadPlace;
  readonly to: LoadPlace;
  readonly law:
    | { readonly kind: 'constant'; readonly force: number }
    /** Rate in N/mm beyond the length at rest in mm. */
    | { readonly kind: 'rate'; readonly rate: number; readonly rest: number };
}

/** What is done to activate the appliance. Amounts are mm of this motion. */
export type Motion =
  /**
   * The wire is drawn through the attachment and held there: out of the wire's spans at the first or the last, and from one span into the
   * other between two others, in the wire's own direction (`along` 1) or against it (-1).
   */
  | Pull
  /** The attachment moves along a unit vector of the outer frame; the wire stays held. */
  | { readonly kind: 'move'; readonly attachment: number; readonly direction: Vec3 };

export interface Pull {
  readonly kind: 'pull';
  readonly attachment: number;
  readonly along?: 1 | -1;
}

export interface Activation {
  readonly motion: Motion;
  /** Stages, mm from neutral, in the order in which they are reached. */
  readonly stages: readonly number[];
  /** Stages counted from the attachments as they stand instead; neutral is not looked for. */
  readonly countedFrom?: 'seats';
}

/** Two feet of one loop: read-outs leg gap and leg angle. */
export interface Loop {
  readonly name: string;
  /** Stations of the first and second foot, mm. */
  readonly feet: readonly [number, number];
  /** Nominal running direction at the part's entry, unit vector of the outer frame. */
  readonly running: Vec3;
  /** Normal of the loop's plane (running × up at the entry), unit vector of the outer frame. */
  readonly normal: Vec3;
}

/** Teeth that move as one. */
export interface ToothGroup {
  readonly name: string;
  /** Those of the design's attachments that are on its teeth. */
  readonly attachments: readonly number[];
  /** Its centre of resistance as the attachments stand, in the outer frame, mm. */
  readonly resistance: Vec3;
  /** Its mesial, gingival and buccal in the outer frame: those of its first attachment. */
  readonly axes: Mat3;
  /** Length of its roots, mm, where it is known. */
  readonly rootLength?: number;
  /** Surface of its roots on this side, mm², where it is known. */
  readonly rootArea?: number;
  /**
   * How far its teeth stand from each other in their row, as the mean square of their distance from the middle along mesial, by
   * root surface, mm²; 0 for one tooth and for teeth abreast.
   */
  readonly rowSpread: number;
  /** Tied to its mirror image on the other side of the arch, on which the mirror image of the wire acts. */
  readonly bothSides: boolean;
}

export interface ApplianceDesign {
  readonly elements: readonly WireElement[];
  readonly section: Section;
  readonly alloy: Alloy;
  /** Nominal pose of the wire's first point. */
  readonly start: Pose;
  /** In order along the wire. */
  readonly attachments: readonly Attachment[];
  readonly activation: Activation | undefined;
  /** Activation from neutral, mm, to which the wire is pulled once and let go before it is engaged for good. */
  readonly trialActivation?: number;
  readonly loops: readonly Loop[];
  readonly loads: readonly Load[];
  /** They have no part in the mechanics of the wire. */
  readonly groups: readonly ToothGroup[];
}

/** Which way a pull draws the wire: 1 in the wire's own direction. */
export function pullWay({ attachment, along }: Pull): 1 | -1 {
  return along ?? (attachment === 0 ? -1 : 1);
}

/** Wire that a motion, mm, draws through an attachment, in the wire's own direction, mm. */
export function drawnThrough({ activation }: ApplianceDesign, attachment: number, motion: number): number {
  const how = activation?.motion;
  return how?.kind === 'pull' && how.attachment === attachment ? pullWay(how) * motion : 0;
}

/** Whether the wire is engaged at the place on its motion at which nothing holds it. */
export function seeksNeutral({ activation }: ApplianceDesign): boolean {
  return activation !== undefined && activation.countedFrom !== 'seats';
}
