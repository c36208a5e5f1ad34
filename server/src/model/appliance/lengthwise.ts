/** How an attachment lets the wire slide, and where it has play. */
import type { Attachment } from '#core/design';
import { NUMBER } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { AttachmentClause, AttachmentMember } from '#grammar/tree';
import { cinchedInside } from '../diagnostics/cinched-inside';
import { contradictingClauses } from '../diagnostics/contradicting-clauses';
import { playWithoutSlot } from '../diagnostics/play-without-slot';
import { unusableFriction } from '../diagnostics/unusable-friction';
import { evaluateNumber } from '../expression/expectation';
import type { Place } from '../expression/place';
import type { Fitted } from './attachments';
import type { ApplianceContext } from './context';

export type Contact = Pick<Attachment, 'tied' | 'lengthwise' | 'play' | 'friction'>;

/** Undefined where what is written cannot be meant. `clause` finds the one clause of a kind. */
export function readContact(
  node: AttachmentMember,
  clause: <K extends AttachmentClause['kind']>(kind: K) => Extract<AttachmentClause, { kind: K }> | undefined,
  place: Place,
): Contact | undefined {
  const holds = [clause('tied'), clause('sliding'), clause('cinched')].filter((one) => one !== undefined);
  const friction = clause('friction');
  const coefficient = friction && frictionOf(friction, holds, place);
  const contradicts = holds.length > 1;
  if (contradicts) {
    const [first, second] = [...holds].sort((a, b) => a.span.start - b.span.start);
    place.recorder.problem(
      contradictingClauses.at(second.span, node.name?.text ?? node.fitting, first.kind, second.kind),
    );
  }
  if (contradicts || (friction && coefficient === undefined)) return undefined;
  const kind = holds[0]?.kind;
  return {
    tied: kind === 'tied',
    lengthwise: kind === 'sliding' || kind === 'cinched' ? kind : 'held',
    play: clause('play') !== undefined,
    friction: coefficient ?? 0,
  };
}

/** Coefficients of wires in slots lie far below; above, a wire in a bend is locked whatever pulls at it. */
const MOST_FRICTION = 2;

function frictionOf(
  clause: Extract<AttachmentClause, { kind: 'friction' }>,
  holds: readonly AttachmentClause[],
  place: Place,
): number | undefined {
  const value = evaluateNumber(clause.value, NUMBER, 'A coefficient of friction', place);
  if (value === undefined) return undefined;
  if (value < 0 || value >= MOST_FRICTION) {
    const shown = formatQuantity({ value, dimension: NUMBER });
    place.recorder.problem(
      unusableFriction.at(
        clause.value?.span ?? clause.span,
        `The coefficient of friction is ${shown}; it must be from 0 to below ${MOST_FRICTION}.`,
        'Without friction, leave the clause out.',
      ),
    );
    return undefined;
  }
  if (!holds.some(({ kind }) => kind !== 'tied')) {
    place.recorder.problem(
      unusableFriction.at(
        clause.span,
        'Friction bounds how a wire slides, but here it is held.',
        'Write "sliding" or "cinched" too, or leave the friction out.',
      ),
    );
    return undefined;
  }
  return value;
}

/** Whether an attachment with play has edges that the wire can touch; reports what they are missing. */
export function hasEdges({ node, slot, length }: Omit<Fitted, 'complete'>, place: Place): boolean {
  const clause = node.clauses.find(({ kind }) => kind === 'play');
  if (!clause) return true;
  const point = node.fitting === 'hook' || node.fitting === 'eyelet';
  const size = node.fitting === 'bracket' ? 'width 3 mm' : 'length 4 mm';
  const slotWritten = slot !== undefined || node.clauses.some(({ kind }) => kind === 'slot');
  const [missing, mend] = point
    ? [
        `is a ${node.fitting}, which holds a point`,
        'Write a tube or a bracket with its slot, or leave "with play" out.',
      ]
    : !slotWritten
      ? ['has no slot', `Add its size, such as "slot 0.022 in x 0.028 in"${length > 0 ? '' : ` and "${size}"`}.`]
      : length <= 0
        ? ['has no length', `Say how much wire it guides, such as "${size}".`]
        : [];
  if (missing && mend) place.recorder.problem(playWithoutSlot.at(clause.span, node.name?.text ?? '', missing, mend));
  return slot !== undefined && length > 0 && !point;
}

/** Whether the wire is cinched behind its first or last attachment only, or not at all; `placed` along the wire. */
export function isCinchedAtEnds(
  fitted: readonly Fitted[],
  placed: readonly Attachment[],
  { recorder }: ApplianceContext,
): boolean {
  const inside = placed.slice(1, -1).filter(({ lengthwise }) => lengthwise === 'cinched');
  for (const { name } of inside) {
    const clause = fitted.find((one) => one.name === name)?.node.clauses.find(({ kind }) => kind === 'cinched');
    if (clause) recorder.problem(cinchedInside.at(clause.span, name, [placed[0].name, placed[placed.length - 1].name]));
  }
  return inside.length === 0;
}
