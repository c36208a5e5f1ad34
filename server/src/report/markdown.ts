/** The outcome of a check as Markdown (CommonMark with tables), for the comment on a pull request. */
import { markdownTable } from './markdown-table';
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
    ...markdownTable(['Place', 'Finding', 'What'], findings),
    ...markdownTable(['Appliance', 'Stage', 'Requirement', 'Verdict', 'Value'], requirements),
    `_${report.caution}_`,
  ];
  return `${parts.join('\n\n')}\n`;
}
