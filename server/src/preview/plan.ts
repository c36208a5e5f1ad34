/** The bending plan beside the drawing: the report's own lines, and the wire after each step. */
import { drawBendingSteps } from '#drawing/bending-steps';
import { bendingPlan } from '#model/bending/bending-plan';
import type { EvaluatedAppliance } from '#model/resolved';
import { planFigures } from '#report/bending-plan';
import { orderOfWork, planCaution, planNotes, planTable, planWarnings } from '#report/bending-plan-text';
import { textPositions } from '#report/text-position';
import type { PreviewPlan } from './view';

export function previewPlan(evaluated: EvaluatedAppliance, text: string): PreviewPlan | undefined {
  const plan = bendingPlan(evaluated);
  if (plan === undefined) return undefined;
  const figures = planFigures(plan, textPositions(text));
  const [headings, ...rows] = planTable(figures);
  return {
    ...{ headings, rows, notes: planNotes(figures), order: orderOfWork(figures), warnings: planWarnings(figures) },
    caution: planCaution,
    steps: drawBendingSteps(plan).map(({ label, svg }) => ({ label, svg })),
  };
}
