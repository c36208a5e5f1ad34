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

/** A tube or bracket clamps the wire straight over `length`; a hook or eyelet holds its point only. */
export interface Attachment {
  readonly name: string;
  readonly fitting: 'tube' | 'bracket' | 'hook' | 'eyelet';
  /** Station of the seat along the wire from its start, mm. */
  readonly station: number;
  /** Wire held straight by the slot, mm, centred on the seat; 0 for a point. */
  readonly length: number;
  /** Inner size of the slot, mm, where it is given. The mechanics holds the wire without play whatever it is. */
  readonly slot?: { readonly height: number; readonly depth: number };
  /** Pose of the wire's section frame (tangent, up, side) when it sits in the slot's middle. */
  readonly seatedWire: Pose;
  /** The slot's own axes (mesial, gingival, buccal, turned by tip, rotation and torque). */
  readonly slotAxes: Mat3;
  /** Axes in which results are reported: the tooth's mesial, gingival, buccal. */
  readonly axes: Mat3;
  /** A hook or eyelet that also holds the wire along its mesial axis. */
  readonly tied: boolean;
  /** A tube or bracket that the wire slides through without friction; one that is not said to slide holds it lengthwise. */
  readonly sliding?: boolean;
}

/** What is done to activate the appliance. Amounts are mm of this motion. */
export type Motion =
  /** The wire is drawn through the attachment, away from the free span, and held. */
  | { readonly kind: 'pull'; readonly attachment: number }
  /** The attachment moves along a unit vector of the outer frame; the wire stays held. */
  | { readonly kind: 'move'; readonly attachment: number; readonly direction: Vec3 };

export interface Activation {
  readonly motion: Motion;
  /** Stages, mm from neutral, in the order in which they are reached. */
  readonly stages: readonly number[];
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
}
