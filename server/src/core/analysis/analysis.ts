/**
 * What an analysis of one appliance yields: plain records that travel unchanged to the editor, the
 * preview, the command line and the report. Units: mm, N, N mm, MPa, rad. Every number is finite.
 */
import type { Vec3 } from '../math/vector';
import type { ComplianceKind } from '../mechanics/compliance';
import type { TakenSet } from './taken-set';

/** Why no equilibrium was reached. Each becomes its own message at the line that caused it. */
export type Failure =
  | { readonly reason: 'no-wire' }
  /** Fewer than two attachments, or only points that leave the wire free to turn. */
  | { readonly reason: 'not-held'; readonly detail: 'no-attachment' | 'one-attachment' | 'only-points' | 'all-sliding' }
  /** The wire is to be pulled through a point. */
  | { readonly reason: 'activation-not-computed' }
  /** What a further wire does to the teeth that it shares is not known, and so not what they feel. */
  | { readonly reason: 'further-wire'; readonly wire: string }
  /** More attachments than the solver takes. */
  | { readonly reason: 'too-many-attachments'; readonly limit: number }
  /** The distance to be spanned is at least the wire available; lengths in mm, activation counted like the stages. */
  | { readonly reason: 'span-exceeds-wire'; readonly span: number; readonly wire: number; readonly motion: number }
  /** A bend would be drawn into (or lies in) the attachment's slot. */
  | { readonly reason: 'bend-in-slot'; readonly attachment: number; readonly element: number; readonly motion: number }
  /** Drawing would run the wire's end into or out of the attachment. */
  | { readonly reason: 'wire-end'; readonly attachment: number; readonly motion: number }
  /** No amount of the motion within reach makes the force along it zero. */
  | { readonly reason: 'no-neutral'; readonly motion: number }
  /** The equilibrium path folds: the wire snaps to another shape. Activation at which it does. */
  | { readonly reason: 'snaps'; readonly motion: number }
  | {
      readonly reason: 'not-converged';
      readonly motion: number;
      /** Gap left in the wire's turn, rad; absent where the iteration blew up. */
      readonly residual: number | undefined;
      readonly iterations: number;
    };

/** Force (N) and moment (N mm) of the wire on the tooth at the slot's centre: components along mesial, gingival, buccal. */
export interface Wrench {
  readonly force: Vec3;
  readonly moment: Vec3;
}

/** A centreline: point k is (points[3k], points[3k+1], points[3k+2]) at stations[k] mm along the wire. */
export interface Outline {
  readonly stations: readonly number[];
  readonly points: readonly number[];
  /** Section side axis (along the wire's width) per point, same layout; tells which leg passes in front. */
  readonly sides: readonly number[];
}

export interface LoopState {
  /** Second foot minus first foot along the nominal running direction, mm; negative: the legs cross. */
  readonly legGap: number;
  /** Angle between the leg tangents at the feet in the loop's plane, rad; 0: parallel, positive: the legs lean toward each other. */
  readonly legAngle: number;
}

/** How the wire stands in a slot that it has play in. */
export interface SeatedWithPlay {
  /** Turn of the wire against the slot about the slot's mesial, gingival and buccal axes (torque, rotation, tip), rad. */
  readonly turn: Vec3;
  /** Edges of the slot that the wire touches: of its height, of its depth, and whether it is wedged in torque. */
  readonly touching: { readonly height: number; readonly depth: number; readonly torque: boolean };
}

export interface LoadState {
  /** Pull, N; negative where a coil spring pushes, 0 where it is slack. */
  readonly force: number;
  /** Where it takes hold, in the outer frame. */
  readonly places: readonly [Vec3, Vec3];
}

/** Least and most that friction lets each component be. */
export interface FrictionBounds {
  readonly least: Wrench;
  readonly most: Wrench;
}

/** One equilibrium. */
export interface EngagedState {
  /** Amount of the declared motion, mm; 0 where there is none. */
  readonly motion: number;
  /** The same counted from neutral, mm. */
  readonly activation: number;
  /** Per attachment, in the design's order, in each attachment's own axes. */
  readonly wrenches: readonly Wrench[];
  /**
   * Where each wrench acts, in the outer frame: the seat, moved by the motion where the attachment moves. A hook that the
   * wire slides along is pressed where the wire's mark lies now.
   */
  readonly places: readonly Vec3[];
  /** Per attachment, wire that has slid through it in the wire's own direction, mm; 0 where it is held. */
  readonly slid: readonly number[];
  /** Per attachment, where the wire has play in it. */
  readonly seated: readonly (SeatedWithPlay | null)[];
  /** Per load of the design. */
  readonly loads: readonly LoadState[];
  /** Per attachment, where the wire slides with friction. */
  readonly friction?: readonly FrictionBounds[];
  /**
   * Largest elastic fibre stress by von Mises, MPa, and its station, mm: that of an elastic section under the forces and
   * moments that act there, nominal past yield.
   */
  readonly stress: number;
  readonly stressStation: number;
  /**
   * Largest share of the elastic range that is used anywhere: that stress over the yield strength of the wire there or, at a
   * bend that is loaded against its last sense, stress against it over what forming has left of the yield strength.
   */
  readonly elasticUse: number;
  /** Fibre stress along the wire, MPa, at the outline's stations. */
  readonly stresses: readonly number[];
  /** Share of the elastic range that is used along the wire, at the outline's stations. */
  readonly uses: readonly number[];
  /** Where yielding was followed: largest stress that a fibre really bears, from bending and stretch, MPa. */
  readonly fibreStress?: number;
  /** Per loop of the design. */
  readonly loops: readonly LoopState[];
  readonly outline: Outline;
  /** Largest remaining imbalance between the attachments: force (N) and moment (N mm) residual. */
  readonly residual: { readonly force: number; readonly moment: number };
  readonly iterations: number;
  /** True where the state is stable as far as the engaged stiffness tells. */
  readonly stable: boolean;
}

/** Two pieces of the wire closer than their thickness, in mm along the wire. */
export interface Contact {
  readonly stations: readonly [number, number];
  /** Clear distance between the surfaces, mm; negative: they overlap. */
  readonly clearance: number;
}

export interface StageResult {
  /** The activation asked for, mm from neutral. */
  readonly activation: number;
  readonly state: EngagedState | undefined;
  readonly failure: Failure | undefined;
}

/** The wire as it is after an engagement or a trial activation. */
export interface Formed {
  /** Held without force along the motion; the engaged state where there is no activation. */
  readonly neutral: EngagedState;
  /** Free of its attachments, and its loops there. */
  readonly passive: Outline;
  readonly passiveLoops: readonly LoopState[];
}

/** What became of a wire that was pulled once and let go. */
export interface TrialActivation extends Formed {
  /** How far it was pulled, mm from the first neutral position; 0 where it was only engaged. */
  readonly amount: number;
  /** At that activation, before it was let go. */
  readonly pulled: EngagedState;
  /** What it keeps along the wire. */
  readonly set: readonly TakenSet[];
  /** Turn, rad, by which the last attachment's seat has been left turned against the first's in the free wire. */
  readonly setTurn: number;
  /**
   * Largest activation from the new neutral position without further set, mm; 0 where engaging alone adds to it,
   * undefined where none was found within the motion's reach.
   */
  readonly largestWithoutSet: number | undefined;
}

/** A wire that leaves its elastic range, or is pulled on trial, followed with the history of its sections. */
export interface Yielding {
  /** As first engaged. */
  readonly first: Formed;
  /** Whether the states of the analysis are those after the trial activation, as the file asks, or of the first engagement. */
  readonly stages: 'first' | 'after-trial';
  /**
   * The trial activation that the file asks for, otherwise one to the largest stage; absent where the wire comes back as
   * it was (superelastic), or where it could not be followed (`failure`).
   */
  readonly trial: TrialActivation | undefined;
  readonly failure: Failure | undefined;
  /** Set while the analysis still runs: the stages are whole, what a trial activation would change is to come. */
  readonly trialToCome?: true;
}

export interface ApplianceAnalysis {
  /** Length of the whole wire along its centre line, mm. */
  readonly developedLength: number;
  readonly nominal: Outline;
  readonly passive: Outline;
  /** Loops in the nominal and the passive shape. */
  readonly nominalLoops: readonly LoopState[];
  readonly passiveLoops: readonly LoopState[];
  /**
   * Held by the attachments with no force along the motion (`motion` says where on it); the engaged state where there
   * is no activation.
   */
  readonly neutral: EngagedState | undefined;
  /** One per stage of the activation (a single stage 0 where there is none), then one per extra activation asked for. */
  readonly stages: readonly StageResult[];
  /** What stopped the whole analysis, where something did. */
  readonly failure: Failure | undefined;
  /**
   * Present where yielding was followed, for alloys that state what they do beyond the elastic range. Neutral and
   * stages are then the yielding wire's. Where it could not be followed they are the elastic wire's, and `unfollowed` says why.
   */
  readonly yielding?: Yielding;
  readonly unfollowed?: Failure;
  /** Activation at which the legs of each loop become parallel, where it lies within the stages, mm. */
  readonly parallelLegs: readonly (number | undefined)[];
  /** Activation of first yield on the loading path, where it lies within the stages (the first stage where it is past it already), mm. */
  readonly firstYield: number | undefined;
  /** Force that holds the motion per mm of it at each stage, N/mm, positive where it resists; undefined without activation. */
  readonly stiffness: readonly (number | undefined)[];
  readonly contacts: { readonly nominal: readonly Contact[]; readonly neutral: readonly Contact[] };
  /** Number of equilibria solved and of Newton iterations, for the benchmarks. */
  readonly effort: { readonly solves: number; readonly iterations: number };
}

/** How the wire is modelled and how finely; defaults everywhere but in checks against simpler sources. */
export interface AnalysisOptions {
  /** 'bending-only' leaves out shear and stretch, for comparison with sources that do. */
  readonly compliance: ComplianceKind;
  readonly mesh: 'default' | 'strict';
  /** 'elastic' keeps to the elastic wire whatever its alloy says. */
  readonly yielding: 'followed' | 'elastic';
  /** Activations to solve besides the stages, mm from neutral. */
  readonly extraActivations: readonly number[];
}
