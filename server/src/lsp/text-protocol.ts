/** Messages between the extension and the language server whose answer is text, as the command line prints it. */

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
