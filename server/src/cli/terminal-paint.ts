import { styleText } from 'node:util';
import { type Paint, plain } from '#report/paint';

/** Colours on a terminal that wants them (https://no-color.org), plain text wherever else the output goes. */
export function terminalPaint(stream: { readonly isTTY?: boolean }, noColor: string | undefined): Paint {
  if (stream.isTTY !== true || (noColor !== undefined && noColor !== '')) return plain;
  // Whether the stream takes colours is settled here: later Nodes would ask their own standard output again.
  const style = (format: Parameters<typeof styleText>[0]) => (text: string) =>
    styleText(format, text, { validateStream: false });
  return {
    strong: style('bold'),
    quiet: style('dim'),
    good: style('green'),
    warning: style('yellow'),
    bad: style('red'),
  };
}
