/** What the editor says beside a line: written once here, shown by hints and hovers. */
import type { ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import type { Span } from '#grammar/tree';
import type { SnapshotAppliance } from '#workspace/snapshot';
import type { Settings } from '../settings';

export interface Reading {
  /** What it stands beside: its line is the one in which the span ends, unless `line` says otherwise. */
  readonly span: Span;
  readonly line: 'first' | 'last';
  readonly kind: keyof Settings['hints'];
  /** Short, for the line's end; absent for what only the tooltip says. */
  readonly text: string | undefined;
  /** A line or a block of Markdown for the tooltip. */
  readonly detail: string;
  /** True where it is of an earlier, whole text. */
  readonly stale: boolean;
}

/** The equilibrium whose forces are shown by default, and the activation at which it stands. */
export function workingState({
  analysis,
  workingActivation,
}: Pick<SnapshotAppliance, 'analysis' | 'workingActivation'>): EngagedState | undefined {
  return analysis === undefined ? undefined : workingStage(analysis, workingActivation)?.state;
}

/** Index of the working activation among the analysis' stages; -1 where it is none of them. */
export function workingStageIndex(analysis: ApplianceAnalysis, workingActivation: number | undefined): number {
  return analysis.stages.findIndex(({ activation }) => activation === (workingActivation ?? 0));
}

function workingStage(analysis: ApplianceAnalysis, workingActivation: number | undefined) {
  return analysis.stages[workingStageIndex(analysis, workingActivation)];
}
