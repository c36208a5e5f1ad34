/**
 * The typed tree of a `.spring` file.
 *
 * Every node carries its span as UTF-16 offsets into the text (`end` exclusive). The parser is
 * error-tolerant: a field typed `| undefined` is missing where the text is half-written, and the
 * text then has at least one syntax problem. Lists keep source order. The tree knows no units, no
 * names' meanings and no physics.
 */

export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A name as written, at its place. */
export interface Name {
  readonly text: string;
  readonly span: Span;
}

/** A string literal: `value` is its content without quotes, `span` includes them. */
export interface Text {
  readonly value: string;
  readonly span: Span;
}

/** The text of consecutive `///` lines directly before an item, without the slashes. */
export type Doc = string | undefined;

export interface SourceFile {
  readonly kind: 'file';
  readonly span: Span;
  readonly items: readonly Item[];
}

export type Item = UseItem | LetItem | AlloyItem | SectionItem | SlotItem | PartItem | ApplianceItem | VariantItem;

/** `use "alloys"` or `use "./parts/loops.spring"` */
export interface UseItem {
  readonly kind: 'use';
  readonly span: Span;
  readonly path: Text | undefined;
}

/** `let name = expression [source found "…"]`, in a file, an appliance, a part or a path. */
export interface LetItem {
  readonly kind: 'let';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly value: Expression | undefined;
  readonly source: Source | undefined;
}

/** `alloy name { property = value in low .. high, source found "…" }` */
export interface AlloyItem {
  readonly kind: 'alloy';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly properties: readonly Property[];
}

/** `modulus = 66 GPa in 62 GPa .. 69 GPa source memory "…"`; `in` and `source` are optional. */
export interface Property {
  readonly kind: 'property';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly value: Expression | undefined;
  readonly range: RangeExpression | undefined;
  readonly source: Source | undefined;
}

/** `source found "…"`, `source memory "…"`, `source practice`, `source computed`: provenance as the handbook marks it. */
export interface Source {
  readonly span: Span;
  readonly state: Name | undefined;
  readonly reference: Text | undefined;
}

/** `section name = 0.019 in x 0.025 in` */
export interface SectionItem {
  readonly kind: 'section';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly size: WireSize | undefined;
  readonly source: Source | undefined;
}

/** `slot name = 0.022 in x 0.028 in` */
export interface SlotItem {
  readonly kind: 'slot';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly size: SlotSize | undefined;
  readonly source: Source | undefined;
}

/** `0.017 in x 0.025 in [ribbonwise] [corner 0.04 mm]`, `round 0.016 in`, or the name of a `section`. */
export type WireSize =
  | {
      readonly kind: 'rectangle';
      readonly span: Span;
      readonly height: Expression | undefined;
      readonly width: Expression | undefined;
      readonly ribbonwise: boolean;
      readonly corner: Expression | undefined;
    }
  | { readonly kind: 'round'; readonly span: Span; readonly diameter: Expression | undefined }
  | { readonly kind: 'named'; readonly span: Span; readonly name: Name };

/** `0.022 in x 0.028 in` (height × depth) or the name of a `slot`. */
export type SlotSize =
  | {
      readonly kind: 'rectangle';
      readonly span: Span;
      readonly height: Expression | undefined;
      readonly depth: Expression | undefined;
    }
  | { readonly kind: 'named'; readonly span: Span; readonly name: Name };

/** `part name(parameter, …) { path items }` */
export interface PartItem {
  readonly kind: 'part';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly parameters: readonly Parameter[];
  readonly body: readonly PathItem[];
}

/**
 * A parameter of a part (`height = 7 mm in 4 mm .. 12 mm`) or of an appliance (the same after
 * `param`). The default gives the dimension.
 */
export interface Parameter {
  readonly kind: 'parameter';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly value: Expression | undefined;
  readonly range: RangeExpression | undefined;
}

/** `on upper left`: the quadrant it sits on; `in upper arch`: it goes over the whole arch. */
export interface Site {
  readonly span: Span;
  readonly kind: 'quadrant' | 'arch';
  /** `upper` or `lower`. */
  readonly arch: Name | undefined;
  /** `left` or `right` of the patient, for a quadrant. */
  readonly side: Name | undefined;
}

/** `appliance name [on upper left | in upper arch] { … }` */
export interface ApplianceItem {
  readonly kind: 'appliance';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  /** Absent where nothing is said. */
  readonly site: Site | undefined;
  /** Present where it is a further wire of another appliance: `auxiliary tip_back of retraction at molar 3 mm gingival { … }`. */
  readonly auxiliary: Auxiliary | undefined;
  readonly members: readonly ApplianceMember[];
}

export interface Auxiliary {
  /** The appliance that it belongs to. */
  readonly base: Name | undefined;
  /** Where its first seat stands, from an attachment of that appliance. */
  readonly at: { readonly attachment: Name | undefined; readonly offsets: readonly Offset[] } | undefined;
}

/** `3 mm gingival` */
export interface Offset {
  readonly span: Span;
  readonly value: Expression | undefined;
  readonly direction: Name | undefined;
}

/** `variant light of closing_section { loop_height = 10 mm  gable = 10 deg }`: the same appliance with other parameters. */
export interface VariantItem {
  readonly kind: 'variant';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  /** The appliance that it varies. */
  readonly base: Name | undefined;
  /** Where it sits, if elsewhere than the appliance that it varies. */
  readonly site: Site | undefined;
  readonly values: readonly Argument[];
}

export type ApplianceMember =
  | WireMember
  | Parameter
  | LetItem
  | PathMember
  | AttachmentMember
  | LoadMember
  | GroupMember
  | ActivationMember
  | TrialMember
  | GaugeMember
  | VisitsMember
  | RequireMember;

/** `wire 0.017 in x 0.025 in of beta_titanium [stress relieved]` */
export interface WireMember {
  readonly kind: 'wire';
  readonly span: Span;
  readonly size: WireSize | undefined;
  readonly alloy: Name | undefined;
  /** Heated after bending, so that the bends keep no stress. */
  readonly stressRelieved: boolean;
}

/** `path running mesial { … }` */
export interface PathMember {
  readonly kind: 'path';
  readonly span: Span;
  readonly direction: Name | undefined;
  readonly body: readonly PathItem[];
}

export type PathItem =
  | LetItem
  | StraightStep
  | BendStep
  | TwistStep
  | HelixStep
  | SeatStep
  | MarkStep
  | FootStep
  | FollowStep
  | ChangeStep
  | CallStep
  | RepeatStep;

/** `straight 8 mm` */
export interface StraightStep {
  readonly kind: 'straight';
  readonly span: Span;
  readonly length: Expression | undefined;
}

/** `bend 90 deg toward gingival [radius 1 mm]` or `preactivate 20 deg toward gingival [radius 1 mm]` */
export interface BendStep {
  readonly kind: 'bend';
  readonly span: Span;
  /** True for `preactivate`: a bend that the attachments will straighten out again. */
  readonly preactivation: boolean;
  readonly angle: Expression | undefined;
  readonly direction: Name | undefined;
  readonly radius: Expression | undefined;
  /** The angle to which it is bent first, where it is then bent back. */
  readonly backFrom: Expression | undefined;
}

/** `twist 10 deg over 3 mm`: preactivation about the wire (third order). */
export interface TwistStep {
  readonly kind: 'twist';
  readonly span: Span;
  readonly angle: Expression | undefined;
  readonly over: Expression | undefined;
}

/** `helix 2 turns diameter 3 mm toward gingival [pitch 0.5 mm]`: winds turns and stacks them beside each other. */
export interface HelixStep {
  readonly kind: 'helix';
  readonly span: Span;
  readonly turns: Expression | undefined;
  readonly diameter: Expression | undefined;
  readonly direction: Name | undefined;
  readonly pitch: Expression | undefined;
}

/** `seat molar`: this point of the wire sits at the middle of the attachment's slot. */
export interface SeatStep {
  readonly kind: 'seat';
  readonly span: Span;
  readonly attachment: Name | undefined;
}

/** `mark centre` */
export interface MarkStep {
  readonly kind: 'mark';
  readonly span: Span;
  readonly name: Name | undefined;
}

/** `foot`: a leg of a loop stands here. A part with exactly two feet has a leg gap and a leg angle. */
export interface FootStep {
  readonly kind: 'foot';
  readonly span: Span;
}

/** `follow beta_arch(width = 55 mm, depth = 40 mm) from 47 mm right to 47 mm left { seat teeth }` */
export interface FollowStep {
  readonly kind: 'follow';
  readonly span: Span;
  readonly curve: Name | undefined;
  readonly arguments: readonly Argument[];
  readonly from: ArchPlace | undefined;
  readonly to: ArchPlace | undefined;
  readonly seats: readonly ArchSeat[];
}

/** A place along an arch form, counted from the midline: `47 mm right` or `tooth 16`. */
export type ArchPlace =
  | {
      readonly kind: 'distance';
      readonly span: Span;
      readonly value: Expression | undefined;
      readonly side: Name | undefined;
    }
  | { readonly kind: 'tooth'; readonly span: Span; readonly tooth: Name | undefined };

/** `seat teeth`, or `seat stop at 5 mm left` */
export interface ArchSeat {
  readonly kind: 'arch-seat';
  readonly span: Span;
  /** Undefined for `seat teeth`: every attachment on a tooth of this stretch. */
  readonly attachment: Name | undefined;
  readonly place: ArchPlace | undefined;
}

/** `section 0.017 in x 0.025 in of beta_titanium doubled`: what the wire is made of from here on. */
export interface ChangeStep {
  readonly kind: 'change';
  readonly span: Span;
  readonly size: WireSize | undefined;
  /** That of the wire before where it is left out. */
  readonly alloy: Name | undefined;
  /** Two such wires side by side. */
  readonly doubled: boolean;
}

/** `[flip] [mirror] closed_loop(height = 8 mm) [as loop]` */
export interface CallStep {
  readonly kind: 'call';
  readonly span: Span;
  readonly flip: boolean;
  readonly mirror: boolean;
  readonly part: Name | undefined;
  readonly arguments: readonly Argument[];
  readonly label: Name | undefined;
}

/** `height = 8 mm` (named; the language has no positional arguments) */
export interface Argument {
  readonly span: Span;
  readonly name: Name | undefined;
  readonly value: Expression | undefined;
}

/** `repeat 3 { … }` */
export interface RepeatStep {
  readonly kind: 'repeat';
  readonly span: Span;
  readonly count: Expression | undefined;
  readonly body: readonly PathItem[];
}

/** `tube molar slot 0.022 in x 0.028 in, length 4 mm, at 23 mm mesial 1 mm gingival, tip 5 deg` */
export interface AttachmentMember {
  readonly kind: 'attachment';
  readonly span: Span;
  readonly doc: Doc;
  readonly fitting: 'tube' | 'bracket' | 'hook' | 'eyelet';
  readonly name: Name | undefined;
  readonly clauses: readonly AttachmentClause[];
}

/** Teeth by their ISO 3950 numbers: one, or from one to another round the arch. */
export interface TeethRange {
  readonly span: Span;
  readonly from: Name;
  readonly to: Name | undefined;
}

export type AttachmentClause =
  /** `on tooth 16`; `on teeth 15 .. 25`, `on teeth 15 13 23` stand for one attachment on each. */
  | { readonly kind: 'on'; readonly span: Span; readonly teeth: readonly TeethRange[] }
  /** `facing left`: where buccal lies. */
  | { readonly kind: 'facing'; readonly span: Span; readonly direction: Name | undefined }
  | { readonly kind: 'slot'; readonly span: Span; readonly size: SlotSize | undefined }
  /** `length 4 mm` and `width 3 mm` both say how much wire the slot holds straight. */
  | { readonly kind: 'length'; readonly span: Span; readonly keyword: Name; readonly value: Expression | undefined }
  /** `at`: position relative to the first seat's nominal place; `moved`: away from this seat's own nominal place. */
  | {
      readonly kind: 'at' | 'moved';
      readonly span: Span;
      readonly offsets: readonly Offset[];
    }
  | {
      readonly kind: 'tip' | 'rotation' | 'torque';
      readonly span: Span;
      readonly value: Expression | undefined;
    }
  | { readonly kind: 'tied'; readonly span: Span }
  | { readonly kind: 'sliding'; readonly span: Span }
  | { readonly kind: 'cinched'; readonly span: Span }
  /** `with play` */
  | { readonly kind: 'play'; readonly span: Span }
  | { readonly kind: 'friction'; readonly span: Span; readonly value: Expression | undefined };

/**
 * `elastic closing from canine to molar force 150 gf` or `coil from hook_mark to molar rate 0.4 N/mm rest 8 mm`: pulls two
 * places together. The name may be left out.
 */
export interface LoadMember {
  readonly kind: 'load';
  readonly span: Span;
  readonly doc: Doc;
  readonly fitting: 'elastic' | 'coil' | 'ligature';
  readonly name: Name | undefined;
  /** An attachment or a mark of the path. */
  readonly from: Name | undefined;
  readonly to: Name | undefined;
  readonly law: LoadLaw | undefined;
}

/** How hard it pulls: always the same, or with a rate beyond its length at rest. */
export type LoadLaw =
  | { readonly kind: 'force'; readonly span: Span; readonly force: Expression | undefined }
  | {
      readonly kind: 'rate';
      readonly span: Span;
      readonly rate: Expression | undefined;
      readonly rest: Expression | undefined;
    };

/**
 * `group anchor of molar and premolar, on teeth 15 .. 17, resistance 8 mm gingival from molar, root 12 mm, both sides`:
 * teeth that move as one.
 */
export interface GroupMember {
  readonly kind: 'group';
  readonly span: Span;
  readonly doc: Doc;
  readonly name: Name | undefined;
  readonly clauses: readonly GroupClause[];
}

export type GroupClause =
  /** Its attachments. */
  | { readonly kind: 'of'; readonly span: Span; readonly attachments: readonly (Name | undefined)[] }
  | { readonly kind: 'on'; readonly span: Span; readonly teeth: readonly TeethRange[] }
  /** Where its centre of resistance lies, from an attachment. */
  | {
      readonly kind: 'resistance';
      readonly span: Span;
      readonly offsets: readonly Offset[];
      readonly from: Name | undefined;
    }
  /** Length of its roots. */
  | { readonly kind: 'root'; readonly span: Span; readonly value: Expression | undefined }
  /** Tied to the same teeth of the other side, on which the mirror image of the wire acts. */
  | { readonly kind: 'sides'; readonly span: Span };

/**
 * `visits every 6 weeks, close 6 mm between canine and molar, activate 2 mm, reactivate when canine.force.distal < 80 gf,
 * rate 0.7 mm/month in 0.5 mm/month .. 1 mm/month, within 40 weeks`: how the appliance is used over time.
 */
export interface VisitsMember {
  readonly kind: 'visits';
  readonly span: Span;
  readonly doc: Doc;
  readonly clauses: readonly VisitsClause[];
}

export type VisitsClause =
  | { readonly kind: 'every'; readonly span: Span; readonly value: Expression | undefined }
  | { readonly kind: 'activate'; readonly span: Span; readonly value: Expression | undefined }
  | { readonly kind: 'within'; readonly span: Span; readonly value: Expression | undefined }
  | {
      readonly kind: 'close';
      readonly span: Span;
      readonly value: Expression | undefined;
      readonly between: readonly [Name | undefined, Name | undefined];
    }
  | { readonly kind: 'reactivate'; readonly span: Span; readonly when: Expression | undefined }
  | {
      readonly kind: 'rate';
      readonly span: Span;
      readonly value: Expression | undefined;
      readonly range: RangeExpression | undefined;
    };

/**
 * `activation pull through molar 0 mm .. 3 mm step 0.5 mm` or
 * `activation move canine distal 0 mm .. 3 mm step 0.5 mm`
 */
export interface ActivationMember {
  readonly kind: 'activation';
  readonly span: Span;
  readonly motion: 'pull' | 'move' | undefined;
  readonly attachment: Name | undefined;
  readonly direction: Name | undefined;
  readonly range: RangeExpression | undefined;
  readonly step: Expression | undefined;
}

/** `trial activation 3 mm`: pulled once to there and let go, before it is engaged for good. */
export interface TrialMember {
  readonly kind: 'trial';
  readonly span: Span;
  readonly amount: Expression | undefined;
}

/** `gauge 1.6 N at activation 2 mm`: a reading at the attachment that is moved or pulled, which corrects the modulus. */
export interface GaugeMember {
  readonly kind: 'gauge';
  readonly span: Span;
  readonly force: Expression | undefined;
  readonly activation: Expression | undefined;
}

/**
 * `require at activation 1.5 mm { … }`, `require along activation { … }`, `require at neutral { … }`,
 * `require when engaged { … }`, `require over visits { … }`; `prefer` instead of `require` makes a miss a warning.
 */
export interface RequireMember {
  readonly kind: 'require';
  readonly span: Span;
  readonly doc: Doc;
  readonly severity: 'require' | 'prefer';
  readonly stage: 'at' | 'along' | 'neutral' | 'engaged' | 'visits' | undefined;
  /** The amount after `at activation`. */
  readonly activation: Expression | undefined;
  readonly conditions: readonly Condition[];
}

/** One line of a `require` block: an expression and, optionally, `because "…"`. */
export interface Condition {
  readonly span: Span;
  readonly test: Expression | undefined;
  readonly because: Text | undefined;
}

export type Expression =
  | QuantityExpression
  | NameExpression
  | MemberExpression
  | UnaryExpression
  | BinaryExpression
  | WithinExpression
  | CallExpression
  | GroupExpression;

/** A number with an optional unit: `7 mm`, `0.6`, `2 N mm`, `40 gf/mm`, `80 %`. */
export interface QuantityExpression {
  readonly kind: 'quantity';
  readonly span: Span;
  readonly number: number;
  readonly numberSpan: Span;
  readonly unit: UnitExpression | undefined;
}

/** Unit words as written: numerator words are multiplied, denominator words divide. */
export interface UnitExpression {
  readonly span: Span;
  readonly numerator: readonly Name[];
  readonly denominator: readonly Name[];
}

export interface NameExpression {
  readonly kind: 'name';
  readonly span: Span;
  readonly name: Name;
}

/** `canine.force.distal`: `path` holds at least two names; the last may be missing after a trailing dot. */
export interface MemberExpression {
  readonly kind: 'member';
  readonly span: Span;
  readonly path: readonly Name[];
}

export interface UnaryExpression {
  readonly kind: 'unary';
  readonly span: Span;
  readonly operator: '-' | 'not';
  readonly operand: Expression | undefined;
}

export interface BinaryExpression {
  readonly kind: 'binary';
  readonly span: Span;
  readonly operator: '+' | '-' | '*' | '/' | '^' | '<' | '<=' | '>' | '>=' | '==' | '!=' | 'and' | 'or';
  readonly operatorSpan: Span;
  readonly left: Expression | undefined;
  readonly right: Expression | undefined;
}

/** `value in low .. high`, both ends included. */
export interface WithinExpression {
  readonly kind: 'within';
  readonly span: Span;
  readonly value: Expression | undefined;
  readonly range: RangeExpression | undefined;
}

export interface RangeExpression {
  readonly span: Span;
  readonly low: Expression | undefined;
  readonly high: Expression | undefined;
}

/** `min(a, b)`, `sqrt(x)`, `sin(angle)` */
export interface CallExpression {
  readonly kind: 'function';
  readonly span: Span;
  readonly name: Name;
  readonly arguments: readonly (Expression | undefined)[];
}

export interface GroupExpression {
  readonly kind: 'group';
  readonly span: Span;
  readonly inner: Expression | undefined;
}

/** Something the text's form gets wrong. The parser never throws; it returns these. */
export interface SyntaxProblem {
  readonly span: Span;
  /** What is wrong, what was expected and how to mend it, in one or two sentences. */
  readonly message: string;
}

export interface ParseResult {
  readonly tree: SourceFile;
  readonly problems: readonly SyntaxProblem[];
}
