/** The outcome of a check as Markdown (CommonMark with tables), for the comment on a pull request. */
import { outcomeWords, stageWords, verdictWord } from './requirement-text';
import type { CheckReport } from './schema';
import { summaryText } from './summary-text';

export function checkMarkdown(report: CheckReport): string {
  const findings = report.files.flatMap(({ path, unreadable, problems }) =>
    unreadable === null
      ? problems.map(({ line, severity, message, hint, code }) => [
          `\`${path}:${line}\``,
          severity === 'information' ? 'note' : severity,
          `${hint === null ? message : `${message} ${hint}`} (\`${code}\`)`,
        ])
      : [[`\`${path}\``, 'error', unreadable]],
  );
  const requirements = report.files.flatMap(({ path, appliances }) =>
    appliances.flatMap(({ name, requirements }) =>
      requirements.map((requirement) => [
        `${name} (\`${path}:${requirement.line}\`)`,
        stageWords(requirement),
        `\`${requirement.condition.replace(/\s+/g, ' ')}\``,
        requirement.outcome === 'met' ? 'met' : `**${verdictWord(requirement)}**`,
        outcomeWords(requirement).trim(),
      ]),
    ),
  );
  const parts = [
    summaryText(report),
    ...table(['Place', 'Finding', 'What'], findings),
    ...table(['Appliance', 'Stage', 'Requirement', 'Verdict', 'Value'], requirements),
    `_${report.caution}_`,
  ];
  return `${parts.join('\n\n')}\n`;
}

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string[] {
  if (rows.length === 0) return [];
  const line = (cells: readonly string[]) => `| ${cells.map(cell).join(' | ')} |`;
  return [[line(heads), line(heads.map(() => '---')), ...rows.map(line)].join('\n')];
}

/** On one line, with the bars that would end a cell told apart from those of the table. */
function cell(text: string): string {
  return text.replace(/\s+/g, ' ').replaceAll('|', '\\|');
}
