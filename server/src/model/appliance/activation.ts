/** The activation: what is done, and at which amounts it is computed. */
import { type Activation, type Attachment, type Pull, pullWay } from '#core/design';
import { column, dot, type Vec3 } from '#core/math/vector';
import { FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { ActivationMember, GaugeMember, TrialMember } from '#grammar/tree';
import { activationNotDeclared } from '../diagnostics/activation-not-declared';
import { activationRange } from '../diagnostics/activation-range';
import { gaugeImplausible } from '../diagnostics/gauge-implausible';
import { limitExceeded } from '../diagnostics/limit-exceeded';
import { pullSide } from '../diagnostics/pull-side';
import { evaluateNumber } from '../expression/expectation';
import type { Place } from '../expression/place';
import { findOfKind } from '../names/lookup';
import { type Directions, directionVector } from '../path/directions';
import { checkRange } from '../range';

const MOST_STAGES = 200;
const STAGES_WITHOUT_STEP = 6;

/** Undefined where it cannot be computed; `attachments` in order along the wire. */
export function resolveActivation(
  node: ActivationMember,
  attachments: readonly Attachment[],
  /** Directions at an attachment. */
  directionsAt: (attachment: number, word: string) => Directions,
  place: Place,
): Activation | undefined {
  const attachment = node.attachment && findOfKind('attachment', node.attachment, place);
  const stages = resolveStages(node, place);
  const index = attachments.findIndex(({ name }) => name === attachment?.name);
  const directions = directionsAt(index, node.direction?.text ?? '');
  const direction = directionVector(node.direction, directions, place.recorder);
  if (index < 0 || !stages || !node.motion || !node.attachment || (node.direction && !direction)) return undefined;
  if (node.motion === 'move') return direction && { motion: { kind: 'move', attachment: index, direction }, stages };
  const motion = pullOf(node, attachments, index, direction, place);
  return motion && { motion, stages };
}

function pullOf(
  { attachment: written, direction: word }: ActivationMember,
  attachments: readonly Attachment[],
  index: number,
  toward: Vec3 | undefined,
  { recorder }: Place,
): Pull | undefined {
  const { name, seatedWire } = attachments[index];
  const inner = index > 0 && index < attachments.length - 1;
  const along = toward && dot(toward, column(seatedWire.axes, 0));
  if (along === undefined || !word) {
    if (!inner) return { kind: 'pull', attachment: index };
    recorder.problem(
      pullSide.at(
        written!.span,
        `${name} stands between two others: to which side the wire is pulled through it is not said.`,
        'Write "toward mesial" or "toward distal" after its name.',
        written!.span,
      ),
    );
    return undefined;
  }
  const way = along > 0 ? 1 : -1;
  if (Math.abs(along) < LEAST_ALONG) {
    recorder.problem(
      pullSide.at(
        word.span,
        `The wire runs across ${word.text} at ${name}, so that it cannot be pulled that way.`,
        'Give the direction along the wire, such as "toward mesial" or "toward distal".',
      ),
    );
    return undefined;
  }
  if (inner) return { kind: 'pull', attachment: index, along: way };
  const out = pullWay({ kind: 'pull', attachment: index });
  if (way === out) return { kind: 'pull', attachment: index };
  recorder.problem(
    pullSide.at(
      word.span,
      `Toward ${word.text} the wire would be pushed in at ${name}, where it can be pulled out only.`,
      `Leave "toward ${word.text}" out, and write amounts below 0 for wire that is let in.`,
    ),
  );
  return undefined;
}

/** Of a direction, that is along the wire: nearer to it than across. */
const LEAST_ALONG = Math.SQRT1_2;

/** Activation to which the wire is pulled on trial, mm; needs an activation of which it can be an amount. */
export function resolveTrial({ span, amount }: TrialMember, declared: boolean, place: Place): number | undefined {
  const value = evaluateNumber(amount, LENGTH, 'The amount of a trial activation', place);
  if (!declared) place.recorder.problem(activationNotDeclared.at(span));
  if (value === undefined || !declared) return undefined;
  if (value > 0) return value;
  const shown = formatQuantity({ value, dimension: LENGTH });
  place.recorder.problem(
    activationRange.at(amount?.span ?? span, `The trial activation is ${shown}; it must be more than 0.`),
  );
  return undefined;
}

/** A gauge reading; needs an activation at which it was taken. */
export function resolveGauge(
  node: GaugeMember,
  declared: boolean,
  place: Place,
): { readonly node: GaugeMember; readonly force: number; readonly activation: number } | undefined {
  const force = evaluateNumber(node.force, FORCE, 'The reading of a gauge', place);
  const activation = evaluateNumber(node.activation, LENGTH, 'The activation of a gauge reading', place);
  if (!declared) place.recorder.problem(activationNotDeclared.at(node.span));
  if (force === undefined || activation === undefined || !declared) return undefined;
  if (force > 0) return { node, force, activation };
  const shown = formatQuantity({ value: force, dimension: FORCE });
  place.recorder.problem(
    gaugeImplausible.at(node.force?.span ?? node.span, `The gauge shows ${shown}; a reading is more than 0.`),
  );
  return undefined;
}

function resolveStages(node: ActivationMember, place: Place): number[] | undefined {
  const range = checkRange(node.range, LENGTH, place);
  const step = node.step ? evaluateNumber(node.step, LENGTH, 'The step of an activation', place) : undefined;
  if (!range || (node.step && step === undefined)) return undefined;
  const low = range.low.value;
  const length = range.high.value - low;
  if (node.step && step !== undefined && step <= 0) {
    const shown = formatQuantity({ value: step, dimension: LENGTH });
    place.recorder.problem(
      activationRange.at(node.step.span, `The step of the activation is ${shown}; it must be more than 0.`),
    );
    return undefined;
  }
  if (length === 0) return [low];
  const size = step ?? length / STAGES_WITHOUT_STEP;
  // A step that divides the range in decimal units must not lose its last stage to rounding.
  const steps = Math.floor(length / size + 1e-9);
  if (steps + 1 > MOST_STAGES) {
    place.recorder.problem(limitExceeded.at((node.step ?? node).span, 'Activation stages', steps + 1, MOST_STAGES));
    return undefined;
  }
  if (steps === 0) {
    const shown = formatQuantity({ value: size, dimension: LENGTH });
    const whole = formatQuantity({ value: length, dimension: LENGTH });
    place.recorder.problem(
      activationRange.at((node.step ?? node).span, `The step of ${shown} is longer than the whole range of ${whole}.`),
    );
    return undefined;
  }
  return Array.from({ length: steps + 1 }, (_, stage) => roundOff(low + stage * size));
}

/** 0.1 + 0.2 is shown and compared as 0.3. */
function roundOff(value: number): number {
  return Number(value.toPrecision(12));
}
