/** One page for the chair: neutral position, how far to activate, what to look for, what to do when a reading is off. */
import type { ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign, Pull } from '#core/design';
import { column, dot } from '#core/math/vector';
import { FORCE, LENGTH, NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import { drawAppliance } from '#drawing/appliance';
import { standaloneDrawing } from '#drawing/standalone';
import { engagedAt } from '#export/shapes';
import { reportAppliance } from '#report/report';
import { textPositions } from '#report/text-position';
import { gapText, largestForce, legsText, limits, readingText } from './chairside-readings';
import type { Page } from './page';
import { writeVisits } from './paint-visits';
import { caution, type SheetInput } from './sheet-input';

export function chairsideCard(page: Page, input: SheetInput, origin: string): void {
  const { appliance, analysis } = input.evaluated;
  const design = input.evaluated.gauged?.design ?? appliance.design;
  if (!design || !analysis) return;
  page.title(`${appliance.name}: chairside card`, origin);
  page.paragraph(caution, true);
  const { neutral } = analysis;
  const isActivated = design.activation !== undefined && neutral !== undefined;
  if (isActivated) {
    writeNeutral(page, design, neutral);
    writeActivation(page, input, design, analysis);
  } else {
    page.heading('Engage');
    page.paragraph(
      'The appliance is engaged and not activated further. Seat it without forcing it; check that each end lies where it is drawn.',
    );
  }
  if (isActivated) {
    page.heading('Limits');
    page.list(limits(analysis, design));
  }
  writeCare(page, input, design);
  writeDrawing(page, input, design);
}

function writeNeutral(page: Page, design: ApplianceDesign, neutral: EngagedState): void {
  const { loops, activation } = neutral;
  const reading = loops.length > 0 ? ` There: ${readingText({ loops, activation }, design)}.` : '';
  const motion = design.activation?.motion;
  const pulled = motion?.kind === 'pull' ? design.attachments[motion.attachment].name : undefined;
  page.heading('Neutral position');
  page.paragraph(`No pull between the teeth: ${neutralWords(design, neutral.motion)}.${reading}`);
  const sign = loops.length > 0 ? 'read the leg gap there' : `mark the wire at ${pulled ?? 'the attachment'} there`;
  page.paragraph(
    `To find it: hold the wire in its attachments as it will be held, let it slide until it neither pulls nor pushes, and ${sign}. Every activation counts from here.`,
  );
}

function neutralWords({ attachments, activation }: ApplianceDesign, motion: number): string {
  if (activation?.motion.kind !== 'pull')
    return `the tooth stands ${tenths(motion)} along the motion from where it is drawn`;
  const { name } = attachments[activation.motion.attachment];
  if (Math.abs(motion) < 0.05) return `the wire lies in ${name} as it was bent`;
  const [side, other] = sides(attachments, activation.motion);
  if (side)
    return `${tenths(Math.abs(motion))} of wire has gone through ${name} toward ${motion > 0 ? side : other} from how it was bent`;
  return motion < 0
    ? `${tenths(-motion)} of wire is let into the span at ${name} from how it was bent`
    : `${tenths(motion)} of wire is drawn out through ${name} from how it was bent`;
}

function drawnTo(attachments: ApplianceDesign['attachments'], motion: Pull): string {
  const [side] = sides(attachments, motion);
  const { name } = attachments[motion.attachment];
  return side ? `through ${name} toward ${side}` : `out through ${name}`;
}

/** The sides from which and to which the wire is pulled between two others: to, then from. */
function sides(attachments: ApplianceDesign['attachments'], { attachment, along }: Pull): readonly string[] {
  if (along === undefined) return [];
  const { seatedWire, axes } = attachments[attachment];
  const mesial = along * dot(column(seatedWire.axes, 0), column(axes, 0)) > 0;
  return mesial ? ['mesial', 'distal'] : ['distal', 'mesial'];
}

function writeActivation(
  page: Page,
  { evaluated, units, activation }: SheetInput,
  design: ApplianceDesign,
  { stages, stiffness }: ApplianceAnalysis,
): void {
  const motion = design.activation?.motion;
  const working = engagedAt(evaluated, activation);
  if (!motion || !working) return;
  const { name } = design.attachments[motion.attachment];
  const watch = working.loops.length > 0 ? 'Watch the leg gap, not the hand.' : `Watch the mark at ${name}.`;
  const amount = length(working.activation);
  page.heading('Activate');
  if (working.activation <= 0)
    page.paragraph(`Leave it at its neutral position and hold it there (cinch or tie): it is not meant to pull.`);
  else if (motion.kind === 'pull')
    page.paragraph(
      `Draw ${amount} of wire ${drawnTo(design.attachments, motion)} from neutral, then hold it (cinch or tie). ${watch}`,
    );
  else page.paragraph(`By ${amount} from neutral, between ${name} and where the wire is held. ${watch}`);
  const steep = stiffness[stages.findIndex(({ state }) => state === working)];
  if (steep !== undefined) {
    const change = formatQuantity({ value: Math.abs(steep) / 10, dimension: FORCE }, units);
    const coarse =
      Math.abs(steep) / 10 > SETTABLE ? ' That is more than a hand can set: rely on a gauge, not on the length.' : '';
    page.paragraph(`A tenth of a millimetre more or less changes the force by about ${change}.${coarse}`);
  }
  const all = stages.flatMap(({ state }) => state ?? []);
  const every = Math.ceil(all.length / MOST_ROWS);
  const states = all.filter((state, k) => k % every === 0 || state === working || k === all.length - 1);
  const loops = design.loops.map(({ name: loop }) => loop);
  page.table(
    states.map((state) => [
      length(state.activation),
      ...state.loops.flatMap(({ legGap, legAngle }) => [gapText(legGap), legsText(legAngle)]),
      largestForce(state, units),
      formatQuantity({ value: state.elasticUse, dimension: NUMBER }),
    ]),
    {
      headings: [
        'activation',
        ...loops.flatMap((loop) => [loops.length > 1 ? `${loop} leg gap` : 'leg gap', 'legs']),
        'largest force',
        'part of the elastic range',
      ],
      bold: (row) => states[row] === working,
    },
  );
}

/** Neutral and engaged, larger than they are, where the page has room left. */
function writeDrawing(page: Page, { evaluated, activation, units }: SheetInput, design: ApplianceDesign): void {
  const room = page.room() - HEADING;
  const options = { activation, units, show: { forces: false }, mainOnly: true, width: DRAWN_WIDTH };
  const svg = drawAppliance({ ...evaluated, design }, options);
  if (svg && room >= LEAST_HEIGHT) page.drawing('As it looks', standaloneDrawing(svg), Math.min(room, DRAWN_HEIGHT));
}

function writeCare(page: Page, { evaluated, text, units }: SheetInput, { loops, activation }: ApplianceDesign): void {
  const sign = loops.length > 0 ? 'leg gap' : 'mark on the wire';
  page.heading('For the patient (common practice, no source)');
  page.list([
    'Teeth may be tender for some days. Pain that grows or does not fade is a reason to call.',
    'A wire that pokes, a part that has come loose or an appliance that looks different than before is a reason to call, not to bend it back.',
    'Clean around it after meals; leave out what is hard or sticky.',
  ]);
  if (!writeVisits(page, evaluated, reportAppliance(evaluated, textPositions(text)), units)) {
    page.heading('Look again');
    const reading = activation ? ` Read the ${sign} first, before anything is touched: it tells what is left.` : '';
    page.paragraph(
      `At the interval that the practitioner sets; commonly four to eight weeks (common practice, no source).${reading}`,
    );
  }
  page.heading('When a reading is off');
  page.list([
    ...(loops.length > 0 && activation
      ? [
          'Wider apart than the table says for this activation: the wire has set or slipped. Take it out, compare it with the template, find neutral again.',
          'Less than it says: it was not activated as far, or a tooth has moved already. Read the activation at the attachment, not at the loop.',
        ]
      : ['It lies otherwise than drawn: the wire has set or slipped. Take it out and compare it with the template.']),
    'A tooth moves another way than the sheet says: stop activating, check that each end is seated and tied as drawn, and compare the bends with the plan.',
    'In doubt take the appliance out. Nothing on this card is worth a force that is not understood.',
  ]);
}

function length(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

/** To what can be set by hand. */
function tenths(value: number): string {
  return length(Math.round(value * 10) / 10);
}

/** N in a tenth of a millimetre; common practice, no source. */
const SETTABLE = 0.5;
const DRAWN_WIDTH = 420;
/** Of the readings, so that all stands on one page. */
const MOST_ROWS = 12;
/** mm */
const DRAWN_HEIGHT = 80;
const LEAST_HEIGHT = 40;
const HEADING = 9;
