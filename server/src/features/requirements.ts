/** The requirements of a file as tests: listed by its text alone, and held against what its appliances come to. */
import type { Range } from 'vscode-languageserver-types';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Condition } from '#grammar/tree';
import type { ResolvedAppliance, ResolvedRequirement, Verdict } from '#model/resolved';
import type { Snapshot, SourceView } from '#workspace/snapshot';
import { rangeOf } from './positions';

export interface ApplianceRequirements {
  readonly appliance: string;
  /** Of its name, or of the whole appliance where it has none. */
  readonly range: Range;
  readonly requirements: readonly Requirement[];
}

export interface Requirement {
  /** Unlike every other of its appliance, and the same after an edit elsewhere. */
  readonly id: string;
  readonly kind: 'require' | 'prefer';
  /** As written, on one line. */
  readonly condition: string;
  /** "at 1.5 mm", "at neutral", "along activation" */
  readonly stage: string;
  readonly range: Range;
}

export interface CheckedRequirements {
  /** Why nothing can be said of the present text; the verdicts are of none then. */
  readonly failure: string | undefined;
  readonly verdicts: readonly CheckedRequirement[];
}

export interface CheckedRequirement {
  readonly appliance: string;
  readonly id: string;
  readonly outcome: Verdict['outcome'];
  /** With their units; absent for joined conditions. */
  readonly actual: string | undefined;
  readonly expected: string | undefined;
  /** "24 gf inside" */
  readonly margin: string | undefined;
  /** All of it but the condition in one sentence, and the reason that the file gives. */
  readonly message: string;
}

export function provideRequirements(source: SourceView): ApplianceRequirements[] {
  return source.file.appliances.flatMap((appliance): ApplianceRequirements[] => {
    const requirements = written(appliance, source.text).map(({ id, requirement, condition, test }) => ({
      id,
      kind: requirement.node.severity,
      condition: oneLine(source.text.slice(test.start, test.end)),
      stage: stageWords(requirement),
      range: rangeOf(source, condition.span),
    }));
    const { node, variant, name } = appliance;
    const item = variant ?? node;
    const range = rangeOf(source, item.name?.span ?? item.span);
    return requirements.length === 0 ? [] : [{ appliance: name, range, requirements }];
  });
}

export function checkRequirements({ appliances, problems, text }: Snapshot): CheckedRequirements {
  const stale = appliances.some((one) => one.stale);
  const broken = problems.find(({ severity, code }) => severity === 'error' && code !== 'requirement-missed');
  if (stale) return { failure: `The file has errors: ${broken?.message ?? 'it cannot be computed.'}`, verdicts: [] };
  const verdicts = appliances.flatMap(({ appliance, verdicts: own, problems: found }) => {
    const reason = (found.find(({ severity }) => severity === 'error') ?? broken)?.message;
    return written(appliance, text).map(({ id, condition }): CheckedRequirement => {
      const verdict = own.find((one) => one.condition === condition);
      return { appliance: appliance.name, id, ...outcomeOf(verdict, reason) };
    });
  });
  return { failure: undefined, verdicts };
}

function outcomeOf(
  verdict: Verdict | undefined,
  unsolved = 'The appliance cannot be computed.',
): Omit<CheckedRequirement, 'appliance' | 'id'> {
  if (verdict === undefined) {
    const nothing = { actual: undefined, expected: undefined, margin: undefined };
    return { ...nothing, outcome: 'not-evaluable', message: unsolved };
  }
  const { outcome, actualText: actual, expectedText: expected, marginText: margin } = verdict;
  return { outcome, actual, expected, margin, message: sentence(verdict) };
}

/** "Missed at 1.5 mm: 90 gf, expected 100 gf to 150 gf (10 gf outside). en masse, per side" */
function sentence(verdict: Verdict): string {
  const { outcome, actualText, expectedText, marginText, activation, reason, because } = verdict;
  const { stage } = verdict.requirement;
  const at = activation === undefined || stage === 'neutral' ? undefined : `at ${millimetres(activation)}`;
  const words = { met: 'Met', missed: 'Missed', 'not-evaluable': 'Not evaluable' }[outcome];
  const where = stage === 'along' && at ? `at the worst ${at}` : (at ?? stageWords(verdict.requirement));
  const margin = marginText === undefined ? '' : ` (${marginText})`;
  const found =
    outcome === 'not-evaluable'
      ? `: ${(reason ?? 'it has no value here').replace(/\.$/, '')}`
      : actualText === undefined
        ? ''
        : `: ${actualText}, expected ${expectedText}${margin}`;
  const purpose = because === undefined || outcome === 'met' ? '' : ` ${because}`;
  return `${words} ${where}${found}.${purpose}`;
}

interface Written {
  readonly id: string;
  readonly requirement: ResolvedRequirement;
  readonly condition: Condition;
  readonly test: NonNullable<Condition['test']>['span'];
}

/** Every condition that can be computed, in file order. */
function written({ requirements }: ResolvedAppliance, text: string): Written[] {
  const seen = new Map<string, number>();
  return requirements.flatMap((requirement) =>
    requirement.node.conditions.flatMap((condition): Written[] => {
      if (!condition.test) return [];
      const { span } = condition.test;
      const key = `${stageWords(requirement)}: ${oneLine(text.slice(span.start, span.end))}`;
      const count = (seen.get(key) ?? 0) + 1;
      seen.set(key, count);
      return [{ id: count === 1 ? key : `${key} (${count})`, requirement, condition, test: span }];
    }),
  );
}

function stageWords({ stage, activation }: ResolvedRequirement): string {
  if (stage === 'along') return 'along activation';
  if (stage === 'at') return activation === undefined ? 'at activation' : `at ${millimetres(activation)}`;
  return stage === 'neutral' ? 'at neutral' : 'when engaged';
}

function millimetres(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

function oneLine(text: string): string {
  return text.replace(/\s+/g, ' ');
}
