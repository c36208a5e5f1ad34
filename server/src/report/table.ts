/** Columns of text, aligned: `<` left, `>` right. Cells are plain; `paint` colours a whole line after alignment. */
export function table(
  rows: readonly (readonly string[])[],
  alignment: readonly ('<' | '>')[],
  indent: string,
): readonly string[] {
  const widths = alignment.map((_, column) => Math.max(0, ...rows.map((row) => (row[column] ?? '').length)));
  return rows.map(
    (row) =>
      indent +
      row
        .map((cell, column) =>
          alignment[column] === '>' ? cell.padStart(widths[column]) : cell.padEnd(widths[column]),
        )
        .join('  ')
        .trimEnd(),
  );
}
