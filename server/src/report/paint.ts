/** How a text report stands out on a terminal; plain text wherever else it goes. */
export interface Paint {
  strong(text: string): string;
  quiet(text: string): string;
  good(text: string): string;
  warning(text: string): string;
  bad(text: string): string;
}

const same = (text: string): string => text;

export const plain: Paint = { strong: same, quiet: same, good: same, warning: same, bad: same };
