import { styleText } from 'node:util';
import { type Paint, plain } from '#report/paint';

/** Colours on a terminal that wants them (https://no-color.org), plain text wherever else the output goes. */
export function terminalPaint(stream: { readonly isTTY?: boolean }, noColor: string | undefined): Paint {
  if (stream.isTTY !== true || (noColor !== undefined && noColor !== '')) return plain;
  return {
    strong: (text) => styleText('bold', text),
    quiet: (text) => styleText('dim', text),
    good: (text) => styleText('green', text),
    warning: (text) => styleText('yellow', text),
    bad: (text) => styleText('red', text),
  };
}
