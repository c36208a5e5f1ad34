/** Messages between the preview's page and the extension, and what the page keeps. */
import type { MessageFromEngine, MessageToEngine } from '#preview/messages';
import type { PreviewParams } from '#preview/view';

/** What of a document the page wants to see; the engine's choice where absent. */
export type PreviewView = Pick<PreviewParams, 'appliance' | 'others' | 'layout' | 'activation'>;

/** What the page keeps while it is hidden or the window reloads. */
export interface PreviewState {
  /** Document shown last. */
  readonly uri: string;
  /** By document, for those shown so far. */
  readonly views: Readonly<Record<string, PreviewView>>;
  /** What is drawn of any document, where it is not left to the engine. */
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

export type MessageToExtension =
  /** The page is there (again) and wants to know which document to show. */
  | { readonly type: 'ready' }
  /** The line of a step is wanted; offsets in the text. */
  | { readonly type: 'reveal'; readonly uri: string; readonly start: number; readonly end: number }
  | Extract<MessageFromEngine, { readonly type: 'readFile' | 'edit' }>;

export type MessageFromExtension =
  /** From now on this document is shown, and of it this appliance where one is named. What is known of it comes before. */
  | { readonly type: 'document'; readonly uri: string; readonly name: string; readonly appliance?: string }
  /** Where the cursor stands in the text. */
  | { readonly type: 'cursor'; readonly uri: string; readonly offset: number }
  | Exclude<MessageToEngine, { readonly type: 'ask' | 'askBands' | 'write' }>;
