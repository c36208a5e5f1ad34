/** Lines and columns of offsets, both counted from 1, columns in UTF-16 code units. */
export interface TextPosition {
  readonly line: number;
  readonly column: number;
}

/** A look-up for one text; a line ends at `\n`, `\r\n` or `\r`. */
export function textPositions(text: string): (offset: number) => TextPosition {
  const starts = [0];
  for (const match of text.matchAll(/\r\n|\n|\r/g)) starts.push(match.index + match[0].length);
  return (offset) => {
    const place = Math.max(0, Math.min(offset, text.length));
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle] <= place) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: place - starts[low] + 1 };
  };
}
