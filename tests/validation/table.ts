/** The validation table as Markdown. */
import { type Check, difference, type Row } from './row';

export function tableOf(
  results: readonly { readonly row: Row; readonly checks: readonly Check[]; readonly full: readonly Check[] }[],
  note: string,
): string {
  const lines = [
    '# Validation table',
    '',
    'Every row runs from `.spring` text through the parser, the model and the solver, on the strict mesh.',
    'It is held to its tolerance with bending only, as its source is (a thousandth of shear and stretch is left, so that',
    'a straight wire held at both ends has an answer). The last columns show the same text with shear and stretch, which',
    'is what the product shows everywhere else. Made by:',
    '',
    '```',
    'WRITE_TABLE=1 npx vitest run tests/validation/handbook.test.ts',
    '```',
    '',
    '| row | quantity | expected | tolerance | bending only | difference | with shear and stretch | difference |',
    '| --- | --- | --- | --- | --- | --- | --- | --- |',
  ];
  for (const { row, checks, full } of results) {
    lines.push(`| **${row.row}** | ${row.title} | | | | | | |`);
    checks.forEach((check, i) => {
      const cells = [
        '',
        check.unit ? `${check.quantity}, ${check.unit}` : check.quantity,
        check.bound ? `at most ${check.expected}` : String(check.expected),
        check.information ? 'information' : check.bound ? 'strict' : String(check.tolerance),
        digits(check.obtained),
        small(difference(check)),
        digits(full[i].obtained),
        small(difference(full[i])),
      ];
      lines.push(`| ${cells.join(' | ')} |`);
    });
  }
  lines.push('', note, '', '## Sources', '');
  for (const { row } of results) lines.push(`- **${row.row}** ${row.source}`);
  return `${lines.join('\n')}\n`;
}

function digits(value: number): string {
  return Math.abs(value) < 1e-9 ? '0' : String(Number(value.toPrecision(6)));
}

function small(value: number): string {
  return value < 1e-9 ? '< 1e-9' : value.toExponential(1);
}
