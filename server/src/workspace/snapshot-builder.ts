/** Puts a resolved file and the mechanics of its appliances together into a snapshot. */
import { analysisSteps } from '#core/analysis/analyse';
import type { AnalysisOptions } from '#core/analysis/analysis';
import type { UnitPreferences } from '#core/units/format';
import type { Condition, SyntaxProblem } from '#grammar/tree';
import { designKey } from '#model/design-key';
import { evaluateAppliance } from '#model/evaluate';
import { unknownAuxiliary } from '#model/evaluation/auxiliaries';
import type { Problem } from '#model/problem';
import type { EvaluatedAppliance, ResolvedAppliance, ResolvedFile, Verdict } from '#model/resolved';
import { namesTrialResult } from '#model/results';
import { applySeverities, type Severities } from '#model/severities';
import { silence } from '#model/silencing';
import type { AnalysisCache } from './analysis-cache';
import type { Module } from './module-graph';
import type { Snapshot, SnapshotAppliance } from './snapshot';
import { sameSurroundings, takenOver } from './unchanged-appliance';
import { canonicalUri } from './uri';

export interface SnapshotInput {
  readonly module: Module;
  readonly file: ResolvedFile;
  readonly version: number;
  /** Everything the module uses, by canonical uri. */
  readonly used: ReadonlyMap<string, { readonly text: string; readonly file: ResolvedFile }>;
  readonly analyses: AnalysisCache;
  readonly analysis: Partial<AnalysisOptions>;
  /** Leaves trial activations that the file does not ask for, and names no result of, to come later. */
  readonly trialsLater: boolean;
  /** Whether visits are followed. */
  readonly visits: boolean;
  readonly units: UnitPreferences;
  readonly severities: Severities;
  /** The document's snapshot before this one: where results of an earlier, whole text come from. */
  readonly previous: Snapshot | undefined;
}

interface Reach {
  /** With what trial activations would change that the file does not ask for. */
  readonly whole: boolean;
  /** Where an appliance that reads as before comes to the same. */
  readonly unchanged: Snapshot | undefined;
}

export function buildSnapshot(input: SnapshotInput): Snapshot {
  const { module, file, version, used, units, analyses, previous } = input;
  const source = { uri: module.uri, text: module.text, parse: module.parse, file };
  const comparable =
    previous?.units.force === units.force && sameSurroundings(previous, source, module.uses, (uri) => used.get(uri));
  const reach = {
    whole: !input.trialsLater || namesTrialResult(module.text),
    unchanged: comparable ? previous : undefined,
  };
  const appliances = file.appliances.map((appliance, index) => evaluate(appliance, index, input, reach));
  // A text so broken that no appliance is left keeps the earlier ones on screen.
  const found = inFileOrder([
    ...module.parse.problems.map(syntaxProblem),
    ...file.problems,
    ...appliances.flatMap(({ problems }) => problems),
  ]);
  const { problems, silenced } = applySeverities(silence(module.text, found), input.severities);
  const gone = appliances.length === 0 && module.parse.problems.length > 0 ? (previous?.appliances ?? []) : [];
  return {
    ...source,
    version,
    units,
    appliances: [...appliances, ...gone.map((appliance) => ({ ...appliance, problems: [], stale: true }))],
    problems: inFileOrder(problems),
    silenced,
    unfinished: appliances.flatMap(({ analysisKeys }) => analysisKeys).filter((key) => !analyses.isWhole(key)),
    module: (uri) => used.get(canonicalUri(uri)),
  };
}

function evaluate(
  appliance: ResolvedAppliance,
  index: number,
  input: SnapshotInput,
  { whole, unchanged }: Reach,
): SnapshotAppliance {
  const { module, file, previous, analyses, visits } = input;
  const earlier =
    previous?.appliances.find(({ appliance: { name } }) => name === appliance.name) ??
    // While its name is being typed, an appliance is known by its place.
    (previous?.appliances.length === file.appliances.length ? previous.appliances[index] : undefined);
  const isFollowed = !visits || !appliance.visits || earlier?.plan !== undefined;
  if (unchanged && earlier && isFollowed && isCurrent(earlier, analyses, whole)) {
    const kept = takenOver(appliance, module.text, earlier, unchanged.text);
    if (kept) return kept;
  }
  const { evaluated, analysisKeys } = evaluateGuarded(appliance, input, whole);
  const design = evaluated.gauged?.design ?? appliance.design;
  const isWhole = design !== undefined && unknownAuxiliary(appliance) === undefined;
  if (isWhole || earlier?.analysis === undefined) return { ...evaluated, design, analysisKeys, stale: false };
  return {
    ...evaluated,
    problems: [],
    design: earlier.design,
    analysis: earlier.analysis,
    further: earlier.further,
    analysisKeys,
    workingActivation: earlier.workingActivation,
    verdicts: rebind(earlier.verdicts, appliance, module.text),
    stale: true,
  };
}

/** Whether there is no more to its analysis by now. */
function isCurrent({ analysis, analysisKeys }: SnapshotAppliance, analyses: AnalysisCache, whole: boolean): boolean {
  const known = analysisKeys.map((key) => analyses.peek(key));
  return known.at(-1) === analysis && (!whole || analysisKeys.every(analyses.isWhole));
}

/** A mistake of ours in the mechanics must not take away what else there is to show of a file. */
function evaluateGuarded(
  appliance: ResolvedAppliance,
  { module, analyses, analysis, visits, units }: SnapshotInput,
  whole: boolean,
): { readonly evaluated: EvaluatedAppliance; readonly analysisKeys: readonly string[] } {
  const analysisKeys: string[] = [];
  try {
    const evaluated = evaluateAppliance(appliance, module.text, {
      preferences: units,
      visits,
      analyse: (design, options) => {
        const all = { ...analysis, ...options };
        const key = designKey(design, all);
        analysisKeys.push(key);
        return analyses.get(key, () => analysisSteps(design, all), whole);
      },
    });
    return { evaluated, analysisKeys };
  } catch (error) {
    const problem: Problem = {
      code: 'internal-error',
      severity: 'error',
      span: appliance.node.name?.span ?? appliance.node.span,
      message: `"${appliance.name}" could not be computed because of a mistake in Springwright, not in this file: ${error}.`,
      hint: 'Please report it with this file.',
    };
    const evaluated = {
      appliance,
      analysis: undefined,
      workingActivation: undefined,
      verdicts: [],
      further: [],
      problems: [problem],
    };
    return { evaluated, analysisKeys };
  }
}

/** Verdicts of an earlier text, put to the conditions of the present one that read the same. */
function rebind(verdicts: readonly Verdict[], { requirements }: ResolvedAppliance, text: string): Verdict[] {
  return requirements.flatMap((requirement) =>
    requirement.node.conditions.flatMap((condition) => {
      const verdict = verdicts.find(
        (earlier) =>
          earlier.requirement.stage === requirement.stage &&
          earlier.requirement.activation === requirement.activation &&
          earlier.text === textOf(condition, text),
      );
      return verdict === undefined ? [] : [{ ...verdict, requirement, condition }];
    }),
  );
}

function textOf({ test }: Condition, text: string): string {
  return test === undefined ? '' : text.slice(test.span.start, test.span.end);
}

function syntaxProblem({ span, message }: SyntaxProblem): Problem {
  return { code: 'syntax', severity: 'error', span, message };
}

function inFileOrder(problems: readonly Problem[]): Problem[] {
  return [...problems].sort((left, right) => left.span.start - right.span.start || left.span.end - right.span.end);
}
