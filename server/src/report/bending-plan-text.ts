/** The bending plan in print: a table along the wire, the order of work, what to look out for. */
import type { Paint } from './paint';
import type { ReportPlan, ReportPlannedBend } from './plan-schema';
import { amount, degrees } from './quantities';
import { table } from './table';

export function planLines(plan: ReportPlan | null | undefined, paint: Paint): readonly string[] {
  if (!plan) return [];
  if (plan.bends.length === 0) return ['', '  Bending plan', ...planNotes(plan).map((note) => `    ${note}`)];
  const [headings, ...rows] = planTable(plan);
  const lines = table([headings, ...rows], ['>', '<', '>', '>', '>', '>', '>', '>', '>', '>', '>', '>', '<'], '    ');
  return [
    '',
    '  Bending plan',
    ...planNotes(plan).map((note) => `    ${note}`),
    '',
    ...lines.map((line, index) => (index === 0 ? paint.quiet(line) : line)),
    '',
    '  Order of work (common practice)',
    ...orderOfWork(plan).map((step, index) => `    ${index + 1}. ${step}`),
    ...planWarnings(plan).map((warning) => paint.warning(`    ${warning}`)),
    paint.quiet(`    ${planCaution}`),
  ];
}

export const planCaution =
  "An estimate to work from: licensed practice and the maker's data for the wire in hand come first; check each bend against a 1:1 print.";

/** What the table's numbers count from. */
export function planNotes(plan: ReportPlan): readonly string[] {
  const { lengthStep, angleStep, deviation } = plan;
  if (plan.bends.length === 0) return [`${cutNote(plan)} Nothing is bent.`];
  return [
    cutNote(plan),
    'Mark where each bend begins, on the straight wire: from the cut end by its start, and from its middle (- toward the start).',
    'Lay the wire with its start toward you. Rolls are from how it lay before, rolls and twists clockwise as you look along it (- counterclockwise); bends go up or down.',
    'Straight lengths are from where one bend ends to where the next begins. Radii are inside; "bend to" and "round" are what to bend to under load, so that it springs back (estimate).',
    `Lengths in ${lengthStep} mm, angles in ${angleStep} deg: bent so, it comes within ${tenths(deviation.distance)} mm and ${tenths(deviation.angle)} deg of the passive shape.`,
  ];
}

function cutNote({ cutLength, holding }: ReportPlan): string {
  return `Cut ${amount(cutLength, 'length')}, with ${amount(holding, 'length')} at each end to hold it by (common practice, no source).`;
}

/** Headings, then a row for each bend; lengths in mm, angles in deg. */
export function planTable(plan: ReportPlan): readonly (readonly string[])[] {
  const length = inSteps(plan.lengthStep);
  const angle = inSteps(plan.angleStep);
  return [
    [
      'bend',
      'what',
      'from end',
      'from middle',
      'straight before',
      'roll',
      'angle',
      'radius',
      'centre line',
      'bend to',
      'round',
      'straight after',
      'as written',
    ],
    ...plan.bends.map((bend) => [
      String(bend.number),
      bendWord(bend),
      length(bend.fromEnd),
      length(bend.fromMiddle),
      length(bend.before),
      bend.kind === 'twist' ? '' : angle(bend.roll),
      angleText(bend, bend.angle, angle),
      ...radiusText(bend, length),
      bend.load ? loadText(bend, bend.load) : '',
      bend.load ? inSteps(0.05)(bend.load.innerRadius) : '',
      length(bend.toNext),
      writtenText(bend, length),
    ]),
  ];
}

export function orderOfWork({ order, trialActivation }: ReportPlan): readonly string[] {
  return [
    ...order.map(({ stage, from, loop, fromEnd, bends }) => {
      const place = { loop: `the middle of ${loop}`, helix: 'the helix', middle: 'the middle of the wire' }[from];
      return stage === 'shape'
        ? `From ${place} (${amount(fromEnd, 'length')} from the end) outward, to the end and then to the start: ${listed(bends)}.`
        : `Preactivation (gable and anti-rotation bends, twists)${order.length > 1 ? ' last' : ''}: ${listed(bends)}.`;
    }),
    ...(trialActivation === null
      ? []
      : [
          `Trial activation: hold both ends as they will be held, activate once to ${amount(trialActivation, 'length')} and a little beyond, let go, and check the shape again.`,
        ]),
  ];
}

export function planWarnings({ warnings, beakWidth }: ReportPlan): readonly string[] {
  const close = warnings.filter((one) => one.kind === 'close');
  const opened = warnings.filter((one) => one.kind === 'opened');
  return [
    ...close.map(
      ({ bends: [first, second], straight }) =>
        `Bends ${first} and ${second} leave ${amount(straight, 'length')} between them, less than a beak of ${amount(beakWidth, 'length')} is wide (common practice, no source): bend them in one go, or further apart.`,
    ),
    ...(opened.length === 0
      ? []
      : [
          `The activation to ${amount(opened[0].activation, 'length')} opens ${opened
            .map(({ bends: [bend], by }) => `bend ${bend} by ${degrees(Number(by.toPrecision(2)))}`)
            .join(
              ', ',
            )}, against the sense in which it is bent; wire yields sooner that way (Bauschinger effect). Common practice: activate in the direction of the last bend.`,
        ]),
  ];
}

function loadText(bend: ReportPlannedBend, { angle, back }: NonNullable<ReportPlannedBend['load']>): string {
  const to = (one: number): string => angleText(bend, one, inSteps(0.5));
  return back === null ? to(angle) : `${to(angle)}, back to ${to(back)}`;
}

function bendWord({ kind, preactivation, follows }: ReportPlannedBend): string {
  if (kind === 'twist') return 'twist';
  if (follows) return 'arch form';
  return preactivation ? 'preactivation' : kind;
}

function angleText({ kind }: ReportPlannedBend, value: number, show: (value: number) => string): string {
  if (kind === 'twist') return show(value);
  const size = Math.abs(value);
  const way = value < 0 ? 'down' : 'up';
  if (kind === 'bend') return `${show(size)} ${way}`;
  const turns = Math.floor(size / 360 + 1e-6);
  const rest = size - 360 * turns;
  return `${turns} × 360${rest > 1e-3 ? ` + ${show(rest)}` : ''} ${way}`;
}

function radiusText(
  { kind, radius, innerRadius }: ReportPlannedBend,
  length: (value: number) => string,
): [string, string] {
  if (kind === 'twist' || radius === null || innerRadius === null) return ['', ''];
  return radius === 0 ? ['sharp', ''] : [inSteps(0.05)(innerRadius), length(radius)];
}

function writtenText(
  { kind, pitch, length, direction, line }: ReportPlannedBend,
  show: (value: number) => string,
): string {
  return [
    ...(direction === null ? [] : [`toward ${direction}`]),
    ...(kind === 'helix' && pitch !== 0
      ? [`pitch ${show(Math.abs(pitch))}, ${pitch > 0 ? 'right' : 'left'}-handed`]
      : []),
    ...(kind === 'twist' ? [length === 0 ? 'at that corner' : `over ${show(length)}`] : []),
    ...(line === null ? [] : [`line ${line}`]),
  ].join(', ');
}

/** As many decimals as the step has, and a plain minus. */
function inSteps(step: number): (value: number) => string {
  const decimals = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
  return (value) => {
    const text = value.toFixed(decimals);
    return Number(text) === 0 ? (0).toFixed(decimals) : text;
  };
}

/** Rounded up to a tenth. */
function tenths(value: number): number {
  return Math.max(1, Math.ceil(value * 10 - 1e-6)) / 10;
}

function listed(bends: readonly number[]): string {
  return `bends ${bends.join(', ')}`.replace(/^bends (\d+)$/, 'bend $1');
}
