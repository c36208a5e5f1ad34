/** Messages between the preview's page and the extension. The page asks, the extension answers for the document it follows. */
import type { ParameterEditParams, PreviewContent, PreviewParams } from '#lsp/protocol';

/** What of a document the page wants to see; the server's choice where absent. */
export type PreviewView = Pick<PreviewParams, 'appliance' | 'others' | 'layout' | 'activation'>;

/** What the page keeps while it is hidden or the window reloads. */
export interface PreviewState {
  /** Document shown last. */
  readonly uri: string;
  /** By document, for those shown so far. */
  readonly views: Readonly<Record<string, PreviewView>>;
  /** What is drawn of any document, where it is not left to the server. */
  readonly show: NonNullable<PreviewParams['show']>;
  /** How close the drawing is shown: magnification, and how far it is moved, in parts of its width. */
  readonly zoom?: { readonly scale: number; readonly x: number; readonly y: number };
  /** Whether the figures have their bands beside them. */
  readonly bands?: boolean;
  /** Whether these are unfolded: what it is compared with, figures, charts, visits and bending plan are not at first. */
  readonly compare?: boolean;
  readonly parameters?: boolean;
  readonly figures?: boolean;
  readonly charts?: boolean;
  readonly plan?: boolean;
  readonly visits?: boolean;
}

export type MessageFromPage =
  /** The page is there (again) and wants to know which document to show. */
  | { readonly type: 'ready' }
  | { readonly type: 'ask'; readonly params: PreviewParams }
  /** The same again with bands, which take their time; answered only if nothing else is asked meanwhile. */
  | { readonly type: 'askBands'; readonly params: PreviewParams }
  /** Parameters are to have these values in the text. */
  | { readonly type: 'write'; readonly params: ParameterEditParams }
  /** The line of a step is wanted; offsets in the text. */
  | { readonly type: 'reveal'; readonly uri: string; readonly start: number; readonly end: number };

export type MessageToPage =
  /** From now on this document is shown, and of it this appliance where one is named. */
  | { readonly type: 'document'; readonly uri: string; readonly name: string; readonly appliance?: string }
  /** The document's results are new. */
  | { readonly type: 'changed'; readonly uri: string }
  /** The answer to an ask, exactly one for each. */
  | { readonly type: 'answer'; readonly uri: string; readonly content?: PreviewContent; readonly failure?: string }
  | { readonly type: 'bands'; readonly uri: string; readonly content: PreviewContent }
  /** Where the cursor stands in the text. */
  | { readonly type: 'cursor'; readonly uri: string; readonly offset: number };
