/** Messages between the preview's page and the engine that computes for it. */
import type { Settings } from '#features/settings';
import type { PreviewContent, PreviewParams } from './view';

export type MessageToEngine =
  /** The editor's settings for a document. */
  | { readonly type: 'settings'; readonly uri: string; readonly settings: Settings }
  /** A document that is open in the editor, as it is now. */
  | { readonly type: 'text'; readonly uri: string; readonly version: number; readonly text: string }
  | { readonly type: 'closed'; readonly uri: string }
  /** A file that is not open may have changed, appeared or gone. */
  | { readonly type: 'fileChanged'; readonly uri: string }
  /** The answer to `readFile`; without a text where there is no such file. */
  | { readonly type: 'file'; readonly uri: string; readonly text?: string }
  /** What a document shows is wanted. */
  | { readonly type: 'ask'; readonly params: PreviewParams }
  /** The same again with bands, which take their time; answered only if nothing else is asked meanwhile. */
  | { readonly type: 'askBands'; readonly params: PreviewParams }
  /** Parameters are to have these values in the text. */
  | { readonly type: 'write'; readonly params: ParameterEditParams };

export type ParameterEditParams = Pick<PreviewParams, 'uri' | 'appliance'> & {
  readonly values: Readonly<Record<string, number>>;
};

export type MessageFromEngine =
  /** A file that a document uses and that is not open, to be answered by `file`. */
  | { readonly type: 'readFile'; readonly uri: string }
  /** There is more to show of a document than was answered last. */
  | { readonly type: 'changed'; readonly uri: string }
  /** The answer to an ask, exactly one for each; without content where there is no such document. */
  | { readonly type: 'answer'; readonly uri: string; readonly content?: PreviewContent; readonly failure?: string }
  /** There is no engine to ask. */
  | { readonly type: 'failed'; readonly failure: string }
  | { readonly type: 'bands'; readonly uri: string; readonly content: PreviewContent }
  /** What was to be written, as one edit of this version of the text; offsets, none overlapping another. */
  | {
      readonly type: 'edit';
      readonly uri: string;
      readonly version: number;
      readonly changes: readonly { readonly start: number; readonly end: number; readonly text: string }[];
    };
