/** The design on paper: template at actual size, forces, requirements, bending table, order of work. */
import { FORCE, LENGTH, MOMENT, NUMBER, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { engagedAt, shapesOf } from '#export/shapes';
import { actualSize } from '#export/template';
import { bendingPlan } from '#model/bending/bending-plan';
import { effects } from '#model/effects';
import { planFigures } from '#report/bending-plan';
import { orderOfWork, planCaution, planNotes, planTable, planWarnings } from '#report/bending-plan-text';
import { textPositions } from '#report/text-position';
import type { Page } from './page';
import { caution, type SheetInput } from './sheet-input';

export function designSheet(page: Page, { evaluated, text, units, activation }: SheetInput, origin: string): void {
  const { appliance, analysis, verdicts } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  if (!design || !analysis) return;
  page.title(appliance.name, origin);
  page.paragraph(caution, true);

  const passive = shapesOf(evaluated).find(({ name }) => name === 'passive');
  if (passive) {
    page.heading('Passive shape at actual size: what leaves the plier');
    if (!page.template(actualSize(passive, appliance.site)))
      page.paragraph(
        'The wire is wider than this paper at actual size. "springwright draw --format template" writes it as a file of its own.',
      );
  }

  const state = engagedAt(evaluated, activation);
  if (state) {
    const when = design.activation
      ? `at ${formatQuantity({ value: state.activation, dimension: LENGTH })} of activation`
      : 'engaged';
    page.heading(`What the wire does to each tooth, ${when}`);
    const rows = design.attachments.flatMap(({ name }, k) =>
      effects(state.wrenches[k]).flatMap(({ kind, amount, words, name: sense }) => {
        if (amount < (kind === 'force' ? LEAST.force : LEAST.moment)) return [];
        const value = formatQuantity({ value: amount, dimension: kind === 'force' ? FORCE : MOMENT }, units);
        return [[name, `${kind} ${sense.replaceAll('_', ' ')}`, value, words]];
      }),
    );
    page.table(['tooth', 'component', 'amount', 'in words'], rows, [2, 3, 2, 4]);
    page.paragraph(
      `Largest elastic stress ${formatQuantity({ value: state.stress, dimension: STRESS })}; ${formatQuantity({ value: state.elasticUse, dimension: NUMBER })} of the elastic range is used.`,
    );
  }

  if (verdicts.length > 0) {
    page.heading('Requirements');
    page.table(
      ['verdict', 'condition', 'is'],
      verdicts.map(({ outcome, text: condition, actualText, because }) => [
        outcome,
        because ? `${condition} (${because})` : condition,
        actualText ?? '',
      ]),
      [1.2, 6, 2],
    );
  }

  const plan = bendingPlan(evaluated);
  if (!plan) return;
  const figures = planFigures(plan, textPositions(text));
  page.heading('Bending plan');
  page.list(planNotes(figures));
  if (figures.bends.length > 0) {
    const [headings, ...rows] = planTable(figures);
    page.table(headings, rows, [0.7, 1.9, 1.1, 1.2, 1.2, 0.8, 1.2, 1, 1, 1.6, 1, 1.1, 3]);
    page.heading('Order of work (common practice)');
    page.list(orderOfWork(figures), true);
  }
  const warnings = planWarnings(figures);
  if (warnings.length > 0) page.heading('To look out for');
  page.list(warnings);
  page.paragraph(planCaution, true);
}

/** Below what anyone can measure: 5 mN and 0.05 N mm. */
const LEAST = { force: 0.005, moment: 0.05 };
