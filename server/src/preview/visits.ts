/** The visits beside the drawing: the report's own tables, and what changes over the weeks. */
import type { UnitPreferences } from '#core/units/format';
import { drawVisitTimeline } from '#drawing/visit-timeline';
import type { EvaluatedAppliance } from '#model/resolved';
import { closingWords } from '#model/visit-words';
import { reportVisits } from '#report/tooth-response';
import { courseRows, responseCaution, visitRowsOf } from '#report/tooth-response-text';
import type { PreviewVisits } from './view';

export function previewVisits(evaluated: EvaluatedAppliance, units: UnitPreferences): PreviewVisits | undefined {
  const { plan } = evaluated;
  const visits = reportVisits(evaluated);
  if (!visits || !plan || 'reason' in plan) return undefined;
  return {
    summary: `${closingWords(plan)}.`,
    visits: visitRowsOf(visits, units),
    courses: courseRows(visits),
    charts: drawVisitTimeline(plan, { units }),
    caution: responseCaution,
  };
}
