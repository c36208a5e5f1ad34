/**
 * What the model makes of a file: names bound, dimensions checked, parts expanded, numbers evaluated.
 * Plain, immutable records; whatever could not be resolved is absent and has a problem.
 */

import type { ApplianceAnalysis, Failure } from '#core/analysis/analysis';
import type { FurtherWire } from '#core/analysis/several-wires';
import type { ApplianceDesign } from '#core/design';
import type { VisitRule } from '#core/response/visits';
import type { Dimension, Quantity } from '#core/units/quantity';
import type {
  AlloyItem,
  ApplianceItem,
  AttachmentMember,
  Condition,
  Expression,
  GaugeMember,
  GroupMember,
  LetItem,
  LoadMember,
  MarkStep,
  Parameter,
  PartItem,
  PathItem,
  Property,
  RequireMember,
  SectionItem,
  SlotItem,
  SourceFile,
  Span,
  VariantItem,
  VisitsMember,
} from '#grammar/tree';
import type { Bands } from './bands';
import type { Place } from './expression/place';
import type { Findings } from './findings';
import type { Scope } from './names/scope';
import type { Problem } from './problem';
import type { Site } from './site';
import type { Tooth } from './teeth';
import type { VisitPlan } from './visit-plan';

/** Anything with a name that can be pointed at. */
export interface Definition {
  readonly kind:
    | 'let'
    | 'parameter'
    | 'alloy'
    | 'section'
    | 'slot'
    | 'part'
    | 'appliance'
    | 'variant'
    | 'auxiliary'
    | 'attachment'
    | 'mark'
    | 'loop'
    | 'load'
    | 'group'
    | 'property';
  readonly name: string;
  readonly uri: string;
  /** Of the name itself. */
  readonly span: Span;
  readonly doc: string | undefined;
  readonly node:
    | LetItem
    | Parameter
    | AlloyItem
    | SectionItem
    | SlotItem
    | PartItem
    | ApplianceItem
    | VariantItem
    | AttachmentMember
    | LoadMember
    | GroupMember
    | MarkStep
    | PathItem
    | Property;
  /** Its value where it has one that does not depend on a call. */
  readonly value: Quantity | undefined;
  /** Its dimension, known also where the value is not. */
  readonly dimension: Dimension | undefined;
  /** The file it is written in. */
  readonly home: Home;
  /** Of a part, in written order. */
  readonly parameters: readonly Definition[];
}

/** A file as its own definitions see it. */
export interface Home {
  readonly uri: string;
  readonly text: string;
  /** Names in reach at file level. */
  readonly scope: Scope;
  /** Where its expressions are evaluated again; what is wrong with them was recorded when the file was resolved. */
  readonly place: Place;
}

/** A use of a name (or the name at its definition), for hover, definition, references and rename. */
export interface Reference {
  readonly span: Span;
  readonly definition: Definition;
}

/** Value of an expression where it stands, for hover and hints. Not recorded inside parts, which have no one value. */
export interface EvaluatedExpression {
  readonly span: Span;
  readonly value: Quantity;
}

/** One step of the expanded path. */
export interface PathStep {
  readonly kind:
    | 'straight'
    | 'bend'
    | 'preactivate'
    | 'twist'
    | 'helix'
    | 'follow'
    | 'section'
    | 'seat'
    | 'mark'
    | 'foot';
  /** Where it is written: a part's step lies in the part's file. */
  readonly uri: string;
  readonly span: Span;
  /** The item of the appliance's own path that it comes from (itself, or the outermost call or repeat). */
  readonly pathSpan: Span;
  /** Stations along the wire, mm; equal for marks and sharp corners. */
  readonly from: number;
  readonly to: number;
  /** rad, for bends, twists and helices. */
  readonly angle: number | undefined;
  /** mm to the centre line, for bends and helices. */
  readonly radius: number | undefined;
  /** rad, what a bend is first bent to where it is then bent back. */
  readonly backFrom: number | undefined;
  /** Direction word as written, for bends and helices. */
  readonly direction: string | undefined;
  readonly name: string | undefined;
  /** mm from turn to turn, for helices. */
  readonly pitch: number | undefined;
  /** Index range in the design's elements: first (inclusive) and end (exclusive). */
  readonly elements: readonly [number, number];
}

export interface ResolvedParameter {
  readonly name: string;
  readonly node: Parameter;
  readonly value: Quantity | undefined;
  readonly range: { readonly low: Quantity; readonly high: Quantity } | undefined;
}

export interface ResolvedLoop {
  /** The label after `as`, or the part's name. */
  readonly name: string;
  readonly span: Span;
}

/** A group of teeth, and how its figures are known. */
export interface ResolvedGroup {
  readonly name: string;
  readonly node: GroupMember;
  readonly teeth: readonly Tooth[];
  /** Given in the file, or estimated from tooth data. */
  readonly resistance: 'given' | 'estimated';
}

/** How the appliance is used over time. */
export interface ResolvedVisits {
  readonly node: VisitsMember;
  readonly rule: VisitRule;
  /** When the wire is activated again; at every visit where nothing is said. */
  readonly when: Expression | undefined;
  /** Least and greatest rate, mm/s. */
  readonly rates: { readonly low: number; readonly high: number } | undefined;
}

/** A `require` block whose stage is known. Its conditions are evaluated against an analysis. */
export interface ResolvedRequirement {
  readonly node: RequireMember;
  readonly stage: 'at' | 'along' | 'neutral' | 'engaged' | 'visits';
  /** mm from neutral, for `at`. */
  readonly activation: number | undefined;
}

export interface ResolvedAppliance {
  readonly name: string;
  readonly uri: string;
  readonly node: ApplianceItem;
  readonly site: Site;
  /** The item that names it and gives other values to some parameters of `node`; absent for an appliance itself. */
  readonly variant: VariantItem | undefined;
  /** Of an auxiliary wire, the appliance or variant that it belongs to. */
  readonly main: ResolvedAppliance | undefined;
  /** Further wires of this appliance, in the order of the file. */
  readonly auxiliaries: readonly ResolvedAppliance[];
  readonly parameters: readonly ResolvedParameter[];
  readonly steps: readonly PathStep[];
  readonly attachments: readonly Definition[];
  /** The tooth that an attachment is on, by its name. */
  readonly teeth: ReadonlyMap<string, Tooth>;
  /** Those that can be made out, in written order, as the design has them. */
  readonly groups: readonly ResolvedGroup[];
  readonly loops: readonly ResolvedLoop[];
  readonly marks: readonly { readonly name: string; readonly station: number; readonly span: Span }[];
  readonly alloy: Definition | undefined;
  readonly requirements: readonly ResolvedRequirement[];
  /** How it is used over time; absent where the file does not say. */
  readonly visits: ResolvedVisits | undefined;
  /** N, read at mm from neutral; its force corrects the alloy's modulus. */
  readonly gauge: { readonly node: GaugeMember; readonly force: number; readonly activation: number } | undefined;
  /** Named values in the appliance's scope, for requirement expressions and hover. */
  readonly values: ReadonlyMap<string, Quantity>;
  /** Names in reach in the appliance, results aside. */
  readonly scope: Scope;
  /** Absent while something needed for the mechanics is missing or wrong. */
  readonly design: ApplianceDesign | undefined;
}

export interface ResolvedFile {
  readonly uri: string;
  readonly tree: SourceFile;
  readonly appliances: readonly ResolvedAppliance[];
  /** Names that a `use` of this file brings in. */
  readonly exports: ReadonlyMap<string, Definition>;
  /** Names visible at file level here: own ones and imported ones. */
  readonly scope: ReadonlyMap<string, Definition>;
  readonly references: readonly Reference[];
  readonly evaluated: readonly EvaluatedExpression[];
  readonly problems: readonly Problem[];
  /** Appliances that are neither variants nor auxiliary wires, each by itself. */
  readonly mains: ReadonlyMap<ApplianceItem, ResolvedMain>;
}

export interface ResolvedMain {
  /** Without its auxiliary wires. */
  readonly appliance: ResolvedAppliance;
  readonly findings: Findings;
}

export interface Verdict {
  readonly requirement: ResolvedRequirement;
  readonly condition: Condition;
  readonly severity: 'error' | 'warning';
  /** The activation at which it was decided: the asked one, or the worst of `along`. */
  readonly activation: number | undefined;
  /** Over visits: the week of the worst. */
  readonly week?: number;
  readonly outcome: 'met' | 'missed' | 'not-evaluable';
  /** The condition's text as written. */
  readonly text: string;
  /** Value of the compared side, its formatted form and that of the bound. */
  readonly actual: Quantity | undefined;
  readonly actualText: string | undefined;
  readonly expectedText: string | undefined;
  /** How far inside or outside its bound, in words: "24 gf inside"; absent for joined conditions and equalities. */
  readonly marginText: string | undefined;
  /** Why it could not be evaluated. */
  readonly reason: string | undefined;
  readonly because: string | undefined;
}

/** A modulus corrected by a reading of force. */
export interface Gauged {
  /** N, of the wire with the modulus that the alloy states. */
  readonly computed: number;
  /** The modulus as the alloy states it, and as the reading asks for it, MPa. */
  readonly stated: number;
  readonly corrected: number;
  /** What is analysed: the appliance's design with the corrected modulus. */
  readonly design: ApplianceDesign;
}

/** An appliance with its mechanics: what editor, preview, command line and report show. */
export interface EvaluatedAppliance {
  readonly appliance: ResolvedAppliance;
  /** Absent where there is no design. */
  readonly analysis: ApplianceAnalysis | undefined;
  /** The activation whose forces are shown by default: that of the first `require at activation`, else the last stage. */
  readonly workingActivation: number | undefined;
  readonly verdicts: readonly Verdict[];
  /** What becomes of it from visit to visit, or why that is not known; absent where the file has no visits. */
  readonly plan?: VisitPlan | Failure;
  /** Further wires as they stand beside it; what they do to the teeth that they share is in the analysis. */
  readonly further: readonly FurtherWire[];
  /** Present where a gauge reading corrects the alloy's modulus. */
  readonly gauged?: Gauged;
  /** How far the figures at one activation spread; present where they were asked for. */
  readonly bands?: Bands;
  /** Failures of the analysis, missed requirements, stress past yield, contact … each at the line that causes it. */
  readonly problems: readonly Problem[];
}
