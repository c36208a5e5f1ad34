/** Messages between the language server and the extension beyond the Language Server Protocol. */
import type { TextEdit } from 'vscode-languageserver-types';
import type { ExportFormat, Paper } from '#export/formats';
import type { ApplianceRequirements, CheckedRequirements } from '#features/requirements';
import type { Comparison } from '#report/comparison';

/** Server to client: the text of a file that is not open. Both editor runtimes read through the client. */
export const readFileRequest = 'springwright/readFile';
export interface ReadFileParams {
  readonly uri: string;
  /** The file as this commit of its repository has it. */
  readonly revision?: string;
}
export type ReadFileResult = { readonly text: string } | { readonly error: string };

/** Server to client: every `.spring` file of the folders that are open in the editor. */
export const findFilesRequest = 'springwright/findFiles';
export interface FindFilesResult {
  readonly uris: readonly string[];
}

/** Client to server: what the preview shows. */
export const previewRequest = 'springwright/preview';
export interface PreviewParams {
  readonly uri: string;
  /** Name of the appliance; the first of the file where absent or gone. */
  readonly appliance?: string;
  /** Other appliances of the file that it is compared with, by name, and how they are drawn: laid over it where absent. */
  readonly others?: readonly string[];
  readonly layout?: 'overlay' | 'beside';
  /** mm from neutral; the working activation where absent. Clamped to the stages' range. */
  readonly activation?: number;
  /** While it moves: read off the stages around it instead of solved. */
  readonly moving?: boolean;
  /** What is drawn; the drawing's own choice where absent. */
  readonly show?: { readonly [part in DrawnPart]?: boolean };
  /** With bands beside the figures: takes as long as some hundred wires, and is given up for the next request. */
  readonly bands?: boolean;
  /** With the bending plan. */
  readonly plan?: boolean;
  /** With what becomes of the teeth from visit to visit. */
  readonly visits?: boolean;
  /** With charts of what changes with the activation. */
  readonly charts?: boolean;
  /** Parameters of the appliance as they are tried out, in their units, instead of what the text gives them. */
  readonly values?: Readonly<Record<string, number>>;
  /** That the page has for the drawing, in pixels. */
  readonly width?: number;
}
export type DrawnPart =
  | 'nominal'
  | 'passive'
  | 'neutral'
  | 'engaged'
  | 'auxiliary'
  | 'forces'
  | 'stress'
  | 'dimensions'
  | 'handles'
  | 'second';

/** Client to server: the edit that gives parameters of an appliance the values tried out; null where the text has none of them. */
export const parameterEditRequest = 'springwright/parameterEdit';
export type ParameterEditParams = Pick<PreviewParams, 'uri' | 'appliance'> & {
  readonly values: Readonly<Record<string, number>>;
};
export interface ParameterEdit {
  readonly version: number;
  readonly edits: readonly TextEdit[];
}

/** Client to server: an appliance as a file to save; null where the document is not open. */
export const exportRequest = 'springwright/export';
export type ExportParams = Pick<PreviewParams, 'uri' | 'appliance' | 'activation'> & {
  readonly format: ExportFormat | 'handout';
  readonly paper: Paper;
  /** Of the document, as it is to stand on a sheet. */
  readonly path: string;
  /** For a handout, which is of the whole document: what the page runs, and how it looks, as built. */
  readonly built?: { readonly script: string; readonly style: string };
};
export interface ExportResult {
  /** Suggested name, and content. */
  readonly file: { readonly name: string; readonly base64: string } | undefined;
  /** Why there is none. */
  readonly failure: string | undefined;
}

/** Client to server: what changed between two files, or two revisions of one. */
export const compareRequest = 'springwright/compare';
export interface CompareParams {
  readonly before: ComparedSide;
  readonly after: ComparedSide;
}
export interface ComparedSide {
  readonly uri: string;
  /** A commit of the repository that holds the file, by its hash; the file as it is in the editor or on disk where absent. */
  readonly revision?: string;
  /** As it is called on the page. */
  readonly name: string;
}
export interface CompareResult {
  readonly content: CompareContent | undefined;
  /** Why there is none. */
  readonly failure: string | undefined;
}
export interface CompareContent {
  readonly appliances: readonly (Comparison & ComparedDrawings)[];
  /** What counts as no change, and what the figures are. */
  readonly notes: readonly string[];
}
/** Complete `<svg>` elements: the earlier revision laid over the later one, and both side by side; none where nothing changed. */
export interface ComparedDrawings {
  readonly overlay: string | undefined;
  readonly beside: string | undefined;
}

/** Client to server: the requirements of a file, open or not, by its text alone; nothing is solved. */
export const requirementsRequest = 'springwright/requirements';
/** Client to server: the same held against what the file's appliances come to; null where there is no such file. */
export const checkRequirementsRequest = 'springwright/checkRequirements';
export interface RequirementsParams {
  readonly uri: string;
}
export type RequirementsResult = readonly ApplianceRequirements[];
export type CheckRequirementsResult = CheckedRequirements | null;

/** Server to client: a document's results are new; an open preview of it asks again. */
export const resultsChangedNotification = 'springwright/resultsChanged';
export interface ResultsChangedParams {
  readonly uri: string;
  readonly version: number;
}

export interface PreviewContent {
  readonly uri: string;
  readonly version: number;
  /** Names of the file's appliances, in file order. */
  readonly appliances: readonly string[];
  readonly appliance: string | undefined;
  /** True where the drawing is of an earlier, whole text. */
  readonly stale: boolean;
  /** One line instead of, or above, the drawing: why there is none, or what is wrong. */
  readonly notice: string | undefined;
  readonly activation:
    | { readonly value: number; readonly from: number; readonly to: number; readonly step: number }
    | undefined;
  /** A complete `<svg>` element: classes and presentation attributes only, no style attribute or element. */
  readonly drawing: string | undefined;
  /** Headline figures of those that are compared, where there are others. */
  readonly comparison: PreviewComparison | undefined;
  /** The numbers beside the drawing, already formatted. */
  readonly readouts: readonly PreviewReadout[];
  /** Where they were asked for: complete `<svg>` elements, each with its title. */
  readonly charts: readonly { readonly title: string; readonly svg: string }[];
  /** Parameters with a range, in written order. */
  readonly parameters: readonly PreviewParameter[];
  /** Parameters that the drawing has a handle of (`.handle`, by `data-parameter`), where handles were asked for and the text is whole. */
  readonly handles: readonly PreviewHandle[];
  /** Where it was asked for and the text is whole. */
  readonly plan: PreviewPlan | undefined;
  /** Whether the file says how the appliance is used over time. */
  readonly hasVisits: boolean;
  /** Where they were asked for, and can be followed. */
  readonly visits: PreviewVisits | undefined;
}

/** From visit to visit; tables are headings and rows of cells, the first cell of each its heading. */
export interface PreviewVisits {
  readonly summary: string;
  readonly visits: readonly (readonly string[])[];
  readonly courses: readonly (readonly string[])[];
  /** Complete `<svg>` elements over the weeks. */
  readonly charts: readonly { readonly title: string; readonly svg: string }[];
  readonly caution: string;
}

/** A parameter with a declared range; numbers in its unit. */
export interface PreviewParameter {
  readonly name: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** As written, "" for a plain number. */
  readonly unit: string;
  readonly step: number;
  readonly documentation: string | undefined;
}

/** A parameter whose size can be taken hold of in the drawing; with no range declared, any value of which the size can be. */
export interface PreviewHandle extends Omit<PreviewParameter, 'low' | 'high'> {
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly kind: 'length' | 'radius' | 'angle';
  /** mm, rad or none per unit: what a movement in the drawing is counted in. */
  readonly factor: number;
}

/** How to bend the wire: everything as it is printed. */
export interface PreviewPlan {
  readonly notes: readonly string[];
  readonly headings: readonly string[];
  /** A row for each bend, with as many cells as there are headings. */
  readonly rows: readonly (readonly string[])[];
  readonly order: readonly string[];
  readonly warnings: readonly string[];
  readonly caution: string;
  /** The wire after each step, in the order of work: complete `<svg>` elements. */
  readonly steps: readonly { readonly label: string; readonly svg: string }[];
}

/** A table with a column for each appliance. */
export interface PreviewComparison {
  readonly headings: readonly string[];
  readonly rows: readonly { readonly label: string; readonly cells: readonly string[] }[];
}

export interface PreviewReadout {
  /** Heading under which it stands, e.g. an attachment's name. */
  readonly group: string;
  readonly label: string;
  readonly value: string;
  /** In words, e.g. "intrudes". */
  readonly words: string | undefined;
}

/** Client to server: what the server has done since it started, for tests and benchmarks. */
export const effortRequest = 'springwright/effort';
export interface Effort {
  readonly parses: number;
  readonly solves: number;
  /** Per request: how often it was answered, how often it failed, and milliseconds taken. */
  readonly requests: Readonly<Record<string, RequestEffort>>;
}
export interface RequestEffort {
  readonly count: number;
  readonly failures: number;
  readonly total: number;
  readonly longest: number;
}
