/** Groups of teeth and visits on paper. */
import type { UnitPreferences } from '#core/units/format';
import { standaloneDrawing } from '#drawing/standalone';
import { drawVisitTimeline } from '#drawing/visit-timeline';
import type { EvaluatedAppliance } from '#model/resolved';
import { closingWords, latestVisit } from '#model/visit-words';
import type { ReportAppliance } from '#report/schema';
import { courseRows, groupRows, responseCaution, visitRowsOf } from '#report/tooth-response-text';
import type { Page } from './page';

/** On the design's sheet: what the wire does to each group, what becomes of them, and how that looks over the weeks. */
export function writeToothResponse(
  page: Page,
  { plan }: EvaluatedAppliance,
  { groups = [], visits }: ReportAppliance,
  units: UnitPreferences,
): void {
  for (const group of groups) {
    const teeth = group.teeth.length > 0 ? `, teeth ${group.teeth.join(', ')}` : '';
    page.heading(`${group.name}${teeth}, at its centre of resistance`);
    page.table(groupRows(group, units), { widths: [1, 4] });
  }
  if (!visits || !plan || 'reason' in plan) return;
  page.heading('From visit to visit');
  page.paragraph(`${closingWords(plan)}. ${responseCaution}`);
  const [headings, ...rows] = visitRowsOf(visits, units);
  page.table(rows, { headings });
  for (const { title, svg } of drawVisitTimeline(plan, { units, width: CHART_WIDTH }))
    page.drawing(title, standaloneDrawing(svg), CHART_HEIGHT);
  const [heads, ...courses] = courseRows(visits);
  page.heading('How far it comes, by the rate of movement');
  page.table(courses, { headings: heads, widths: [1.6, 1, 1, 1, 4] });
}

/** On the card: what to read and do at each visit, and when it is over; whether there was something to write. */
export function writeVisits(
  page: Page,
  { plan }: EvaluatedAppliance,
  { visits }: ReportAppliance,
  units: UnitPreferences,
): boolean {
  if (!visits || !plan || 'reason' in plan) return false;
  page.heading('Look again');
  const latest = latestVisit(plan);
  page.paragraph(
    `Every ${Math.round(visits.everyWeeks)} weeks${latest === undefined ? '' : `; it should be seen in week ${latest} at the latest, when at the faster rate the space would be closed`}. What is found decides, not the week: read the leg gap before anything is touched.`,
  );
  const [headings, ...rows] = visitRowsOf(visits, units);
  const kept = headings.map((heading, k) => ({ heading, k })).filter(({ heading }) => heading !== 'line of action');
  page.table(
    rows.map((row) => kept.map(({ k }) => row[k])),
    { headings: kept.map(({ heading }) => heading) },
  );
  page.paragraph(
    'Stop, and take the appliance out or leave it passive, when the space is closed, when a tooth moves another way than planned, or when a reading is not understood.',
  );
  return true;
}

const CHART_WIDTH = 520;
/** mm */
const CHART_HEIGHT = 48;
