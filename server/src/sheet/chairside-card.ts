/** One page for the chair: neutral position, how far to activate, what to look for, what to do when a reading is off. */

import type { ApplianceDesign } from '#core/design';
import { norm } from '#core/math/vector';
import { ANGLE, FORCE, LENGTH, NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Page } from './page';
import { caution, type SheetInput } from './sheet-input';

export function chairsideCard(page: Page, { evaluated, units, activation }: SheetInput, origin: string): void {
  const { appliance, analysis, workingActivation } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  if (!design || !analysis) return;
  page.title(`${appliance.name}: chairside card`, origin);
  page.paragraph(caution, true);
  const { neutral, stages, parallelLegs, firstYield, yielding } = analysis;
  const solved = stages.flatMap(({ state }) => (state ? [state] : []));
  const loops = design.loops.map(({ name }) => name);
  const motion = design.activation?.motion;

  if (!motion || !neutral) {
    page.heading('Engage');
    page.paragraph(
      'The appliance is engaged and not activated further. Seat it without forcing it; check that each end lies where it is drawn.',
    );
  } else {
    page.heading('Neutral position');
    const gaps = design.loops.map(({ name }, k) => `${name} with a leg gap of ${gap(neutral.loops[k].legGap)}`);
    page.paragraph(
      `No pull between the teeth: ${neutralWords(design, neutral.motion)}${gaps.length > 0 ? `, ${gaps.join(', ')}` : ''}.`,
    );
    page.paragraph(
      'To find it: hold the wire in both attachments as it will be held, let it slide until it neither pulls nor pushes, and read the leg gap there. Every activation counts from here.',
    );
    const wanted = activation ?? workingActivation;
    if (wanted !== undefined) {
      page.heading('Activate');
      page.paragraph(
        `By ${length(wanted)} from neutral, then hold it (cinch or tie). Watch the leg gap, not the hand.`,
      );
    }
    if (solved.length > 0) {
      page.heading('What to look for');
      page.table(
        ['activation', ...loops.flatMap((name) => [`${name} leg gap`, 'leg angle']), 'largest force', 'elastic use'],
        solved.map((state) => [
          length(state.activation),
          ...state.loops.flatMap(({ legGap, legAngle }) => [
            gap(legGap),
            formatQuantity({ value: legAngle, dimension: ANGLE }),
          ]),
          formatQuantity(
            { value: Math.max(...state.wrenches.map(({ force }) => norm(force))), dimension: FORCE },
            units,
          ),
          formatQuantity({ value: state.elasticUse, dimension: NUMBER }),
        ]),
      );
    }
    page.heading('Limits');
    page.list([
      ...parallelLegs.flatMap((at, k) =>
        at === undefined ? [] : [`The legs of ${loops[k]} are parallel at ${length(at)}: no further than there.`],
      ),
      ...(yielding?.trial?.largestWithoutSet !== undefined
        ? [`After a trial activation the wire takes no further set up to ${length(yielding.trial.largestWithoutSet)}.`]
        : firstYield !== undefined
          ? [`The wire begins to yield at ${length(firstYield)}: beyond it neutral moves, and the next reading is off.`]
          : ['Within these activations the wire stays elastic.']),
      ...(design.trialActivation === undefined
        ? []
        : [
            `Trial activation before it is engaged for good: once to ${length(design.trialActivation)}, let go, and check the shape.`,
          ]),
    ]);
  }

  page.heading('For the patient (common practice, no source)');
  page.list([
    'Teeth may be tender for some days. Pain that grows or does not fade is a reason to call.',
    'A wire that pokes, a part that has come loose or an appliance that looks different than before is a reason to call, not to bend it back.',
    'Clean around it after meals; leave out what is hard or sticky.',
  ]);
  page.heading('Look again');
  page.paragraph(
    'At the interval that the practitioner sets; commonly four to eight weeks (common practice, no source). Read the leg gap first, before anything is touched: it tells how much of the activation is left.',
  );
  page.heading('When a reading is off');
  page.list([
    'Leg gap larger than the table says for this activation: the wire has set or slipped. Take it out, compare it with the template, find neutral again.',
    'Leg gap smaller: it was not activated as far, or a tooth has moved already. Read the activation at the attachment, not at the loop.',
    'A tooth moves another way than the sheet says: stop activating, check that each end is seated and tied as drawn, and compare the bends with the plan.',
    'In doubt take the appliance out. Nothing on this card is worth a force that is not understood.',
  ]);
}

function neutralWords({ attachments, activation }: ApplianceDesign, motion: number): string {
  if (activation?.motion.kind !== 'pull')
    return `the tooth stands ${length(motion)} along the motion from where it is drawn`;
  const { name } = attachments[activation.motion.attachment];
  if (Math.abs(motion) < 5e-4) return `the wire lies in ${name} as it was bent`;
  return motion < 0
    ? `${length(-motion)} of wire is let into the span at ${name} from how it was bent`
    : `${length(motion)} of wire is drawn out through ${name} from how it was bent`;
}

function length(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

function gap(value: number): string {
  return value < 0 ? `${length(-value)}, crossed` : length(value);
}
