/** Messages between the page of a comparison and the extension. */
import type { CompareContent, CompareParams } from '#lsp/protocol';

/** What the page keeps while it is hidden or the window reloads. */
export interface CompareState {
  readonly params?: CompareParams;
  readonly beside?: boolean;
}

export type MessageFromComparePage = { readonly type: 'ready' };

export interface MessageToComparePage {
  readonly params: CompareParams;
  readonly content: CompareContent | undefined;
  /** Why there is none. */
  readonly failure: string | undefined;
}
