/** A table of GitHub Flavored Markdown; nothing where there are no rows. */
export function markdownTable(heads: readonly string[], rows: readonly (readonly string[])[]): readonly string[] {
  if (rows.length === 0) return [];
  const line = (cells: readonly string[]) => `| ${cells.map(cell).join(' | ')} |`;
  return [[line(heads), line(heads.map(() => '---')), ...rows.map(line)].join('\n')];
}

/** On one line, with the bars that would end a cell told apart from those of the table. */
function cell(text: string): string {
  return text.replace(/\s+/g, ' ').replaceAll('|', '\\|');
}
