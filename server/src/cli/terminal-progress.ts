/** One line on a terminal that says what is being worked on, and is gone when the work is done. */
export function terminalProgress(stream: {
  readonly isTTY?: boolean;
  readonly columns?: number;
  write(text: string): unknown;
}): (what: string | undefined) => void {
  if (stream.isTTY !== true || process.env.TERM === 'dumb') return () => {};
  let shown = false;
  return (what) => {
    if (what === undefined && !shown) return;
    shown = what !== undefined;
    // ECMA-48: back to the first column, erase to the end of the line. A line that wraps could not be taken away.
    stream.write(`\r\u001b[K${what === undefined ? '' : `${what} …`.slice(0, (stream.columns || 80) - 1)}`);
  };
}
