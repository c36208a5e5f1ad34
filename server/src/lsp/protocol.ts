/** Messages between the language server and the extension beyond the Language Server Protocol. */
import type { ExportFormat, Paper } from '#export/formats';
import type { ApplianceRequirements, CheckedRequirements } from '#features/requirements';
import type { PreviewParams } from '#preview/view';
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

/** Client to server: the names of a file's appliances in file order, open or not, by its text alone. */
export const appliancesRequest = 'springwright/appliances';
export interface AppliancesParams {
  readonly uri: string;
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

/** Server to client: a document's results are new. */
export const resultsChangedNotification = 'springwright/resultsChanged';
export interface ResultsChangedParams {
  readonly uri: string;
  readonly version: number;
}

/** Client to server: what `check` or `analyze` prints of files, open or not. */
export const reportTextRequest = 'springwright/reportText';
export interface ReportTextParams {
  readonly command: 'check' | 'analyze';
  /** With the path under which each is told. */
  readonly files: readonly { readonly uri: string; readonly path: string }[];
}

/** Client to server: what a finding means and how to mend it. */
export const explainRequest = 'springwright/explain';
export interface ExplainParams {
  readonly id: string;
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
