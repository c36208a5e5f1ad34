/** The design on paper: template at actual size, drawings, forces, requirements, bending table, order of work. */
import { FORCE, LENGTH, MOMENT } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { drawAppliance } from '#drawing/appliance';
import type { DrawingOptions } from '#drawing/scene';
import { standaloneDrawing } from '#drawing/standalone';
import { engagedAt, shapesOf } from '#export/shapes';
import { actualSize } from '#export/template';
import { bendingPlan } from '#model/bending/bending-plan';
import { effects } from '#model/effects';
import { stageLoads, stressCaution, wireFacts } from '#report/appliance-text';
import { planFigures } from '#report/bending-plan';
import { orderOfWork, planCaution, planNotes, planTable, planWarnings } from '#report/bending-plan-text';
import { reportAppliance } from '#report/report';
import { textPositions } from '#report/text-position';
import type { Page } from './page';
import { writeToothResponse } from './paint-visits';
import { caution, type SheetInput } from './sheet-input';

export function designSheet(page: Page, input: SheetInput, origin: string): void {
  const { evaluated, text, units } = input;
  const { appliance, analysis } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  if (!design || !analysis) return;
  const doc = appliance.variant?.doc ?? appliance.node.doc;
  page.title(appliance.name, origin);
  if (doc) page.paragraph(doc.replaceAll(/\s+/g, ' '));
  page.paragraph(caution, true);

  page.heading('The wire');
  const report = reportAppliance(evaluated, textPositions(text));
  page.table(wireFacts(report, units), { widths: [1, 4] });

  const passive = shapesOf(evaluated).find(({ name }) => name === 'passive');
  if (
    passive &&
    !page.template('Passive shape at actual size: what leaves the plier', actualSize(passive, appliance.site))
  )
    page.paragraph(
      'The wire is larger than this paper at actual size. "springwright draw --format template" writes it as a file of its own.',
    );
  drawing(page, 'In place, with its sizes', input, {
    show: { neutral: false, forces: false, dimensions: true },
    mainOnly: true,
  });

  const state = engagedAt(evaluated, input.activation);
  if (state) {
    const when = design.activation
      ? `at ${formatQuantity({ value: state.activation, dimension: LENGTH })} of activation`
      : 'engaged';
    drawing(page, `What the wire does to each tooth, ${when}`, input, {});
    const rows = design.attachments.flatMap(({ name }, k) =>
      effects(state.wrenches[k])
        .filter(({ kind, amount }) => amount >= LEAST[kind])
        .map(({ kind, amount, words, name: sense }, row) => {
          const value = formatQuantity({ value: amount, dimension: kind === 'force' ? FORCE : MOMENT }, units);
          return [row === 0 ? name : '', `${kind} ${sense.replaceAll('_', ' ')}`, value, words];
        }),
    );
    page.table(rows, { headings: ['tooth', 'component', 'amount', 'in words'], widths: [2, 3, 2, 4] });
  }
  if (report.stages.filter((stage) => stage.state !== null).length > 1) {
    for (const [k, { name, fitting }] of report.attachments.entries()) {
      const [headings, ...rows] = stageLoads(report, k, units);
      if (headings.length < 3) continue;
      page.heading(`${name} (${fitting}), as the activation grows`);
      page.table(rows, { headings });
    }
  }
  writeToothResponse(page, evaluated, report, units);
  writeRequirements(page, input);
  writeCautions(page, input, stressCaution(report));
  writePlan(page, input);
}

function drawing(
  page: Page,
  heading: string,
  { evaluated, activation, units }: SheetInput,
  options: DrawingOptions,
): void {
  const design = evaluated.gauged?.design;
  const svg = drawAppliance(
    { ...evaluated, ...(design && { design }) },
    { activation, units, width: DRAWN_WIDTH, ...options },
  );
  if (svg) page.drawing(heading, standaloneDrawing(svg), DRAWN_HEIGHT);
}

function writeRequirements(page: Page, { evaluated: { verdicts } }: SheetInput): void {
  if (verdicts.length === 0) return;
  page.heading('Requirements');
  page.table(
    verdicts.map(({ outcome, text: condition, actualText, because, reason }) => [
      outcome === 'not-evaluable' ? 'not told' : outcome,
      because ? `${condition} (${because})` : condition,
      actualText ?? reason ?? '',
    ]),
    {
      headings: ['verdict', 'condition', 'is'],
      widths: [1.2, 6, 2],
      bold: (row) => verdicts[row].outcome !== 'met',
    },
  );
}

/** What the editor underlines is told on paper too. */
function writeCautions(page: Page, { evaluated: { problems } }: SheetInput, stress: string | undefined): void {
  const messages = problems
    .filter(({ severity, code }) => severity !== 'hint' && !/^(requirement|preference)-/.test(code))
    .map(({ message }) => message);
  const all = [...new Set([...messages, ...(stress ? [stress] : [])])];
  if (all.length === 0) return;
  page.heading('Cautions');
  page.list(all);
}

function writePlan(page: Page, { evaluated, text }: SheetInput): void {
  const plan = bendingPlan(evaluated);
  if (!plan) return;
  const figures = planFigures(plan, textPositions(text));
  page.heading('Bending plan');
  page.paragraph(planCaution, true);
  page.list(planNotes(figures));
  if (figures.bends.length > 0) {
    const [headings, ...rows] = planTable(figures);
    page.table(rows, { headings, widths: [0.7, 1.9, 1.1, 1.2, 1.2, 0.8, 1.2, 1, 1, 1.6, 1, 1.1, 3] });
    page.heading('Order of work (common practice)');
    page.list(orderOfWork(figures), true);
  }
  const warnings = planWarnings(figures);
  if (warnings.length > 0) page.heading('To look out for');
  page.list(warnings);
}

/** Below what anyone can measure: 5 mN and 0.05 N mm. */
const LEAST = { force: 0.005, moment: 0.05 };
/** Canvas units: letters of the drawing come out about as large as those of the text. */
const DRAWN_WIDTH = 600;
/** mm, so that a page holds more than a drawing. */
const DRAWN_HEIGHT = 110;
