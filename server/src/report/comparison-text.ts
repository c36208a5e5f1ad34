/** A comparison for people: text with columns, and Markdown for the comment on a pull request. */
import type { Change, Comparison } from './comparison';
import { markdownTable } from './markdown-table';
import type { Paint } from './paint';
import { caution } from './report';
import { table } from './table';

/** What a comparison leaves out; SMALLEST_CHANGE and SMALLEST_REQUIRED_CHANGE in words. */
export const left =
  'Changes below 0.001 mm, 0.001 N, 0.01 N mm, 0.5 MPa, 0.01 deg, 0.1 % of elastic use and a thousandth of what is required are left out as none.';

export function comparisonText(comparisons: readonly Comparison[], paint: Paint): string {
  const lines = comparisons.flatMap((comparison) => {
    const { name, changes } = comparison;
    return [
      `${paint.strong(name)}${place(comparison)}${verdict(comparison)}`,
      ...groupsOf(changes).flatMap((group) => {
        const of = changes.filter((change) => change.group === group);
        const rows = of.map((change) => [change.name, ...sides(change)]);
        return [
          `  ${group}`,
          ...table(rows, ['<', '<', '<', '<'], '    ').map((line, index) => (of[index].worse ? paint.bad(line) : line)),
        ];
      }),
      '',
    ];
  });
  const nothing = comparisons.length === 0 ? ['No number changes.', ''] : [];
  return `${[...lines, ...nothing, paint.quiet(left), paint.quiet(caution)].join('\n')}\n`;
}

export interface MarkdownExtras {
  /** Address of the drawing of what changed, where there is one. */
  readonly drawing?: string;
  /** One line each on what cannot be compared. */
  readonly obstacles?: readonly string[];
}

export function comparisonMarkdown(
  comparisons: readonly Comparison[],
  { drawing, obstacles = [] }: MarkdownExtras = {},
): string {
  const parts = comparisons.flatMap((comparison) => {
    const { name, changes } = comparison;
    const ofStages = changes.filter(({ stage }) => stage);
    const folded =
      ofStages.length === 0
        ? []
        : [
            `<details><summary>Stage by stage: ${ofStages.length} figures</summary>`,
            ...changeTable(ofStages),
            '</details>',
          ];
    return [
      `### ${name}${place(comparison)}${verdict(comparison)}`,
      ...changeTable(changes.filter(({ stage }) => !stage)),
      ...folded,
    ];
  });
  // Between angle brackets an address may hold spaces (CommonMark 0.31, 6.3).
  const picture = drawing === undefined ? [] : [`![Before and after, to scale](<${drawing.replaceAll('\\', '/')}>)`];
  const nothing = comparisons.length === 0 && obstacles.length === 0 ? ['No number changes.'] : [];
  const unread = obstacles.map((line) => `Cannot be compared: \`${line.trim()}\``);
  return `${[...picture, ...unread, ...nothing, ...parts, `_${left}_`, `_${caution}_`].join('\n\n')}\n`;
}

function changeTable(changes: readonly Change[]): readonly string[] {
  const rows = changes.map(({ group, name, before, after, worse }) => [
    group,
    name,
    before ?? '–',
    worse ? `**${after ?? '–'}**` : (after ?? '–'),
  ]);
  return markdownTable(['', 'Figure', 'Before', 'After'], rows);
}

function place({ file }: Comparison): string {
  return file === undefined ? '' : `, ${file}`;
}

function verdict({ state, changes }: Comparison): string {
  if (state === 'added') return ': is new';
  if (state === 'removed') return ': is gone';
  if (changes.length === 0) return ': no number changes';
  const worse = changes.filter((change) => change.worse).length;
  if (worse === 0) return '';
  return worse === 1 ? ': a requirement is not met any more' : `: ${worse} requirements are not met any more`;
}

function sides({ before, after }: Change): [string, string, string] {
  return [before ?? '–', '→', after ?? '–'];
}

function groupsOf(changes: readonly Change[]): readonly string[] {
  return [...new Set(changes.map(({ group }) => group))];
}
