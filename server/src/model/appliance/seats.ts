/** Brings seats and attachments together. */
import type { Attachment } from '#core/design';
import { column, dot, identityMatrix, type Vec3, zeroVector } from '#core/math/vector';
import type { PathMember } from '#grammar/tree';
import { attachmentWithoutSeat } from '../diagnostics/attachment-without-seat';
import { duplicateSeat } from '../diagnostics/duplicate-seat';
import { slotDirectionUnknown } from '../diagnostics/slot-direction-unknown';
import type { Layout, Seat } from '../path/layout';
import type { Definition } from '../resolved';
import { attachmentOf, type Fitted, isInLine, reportOutOfLine, seatDeviation } from './attachments';
import type { ApplianceContext } from './context';
import { localAxes } from './local-axes';
import { layOutOnTrial, writtenBends } from './path';

/** Seats by attachment, the first of each; further ones are reported. */
export function seatsByName(layout: Layout, { recorder, home }: ApplianceContext): Map<string, Seat> {
  const seats = new Map<string, Seat>();
  for (const seat of layout.seats) {
    const first = seats.get(seat.name);
    if (!first) seats.set(seat.name, seat);
    else {
      recorder.problem(duplicateSeat.at(seat.span, seat.name, { uri: home.uri, span: first.span }));
      layout.complete = false;
    }
  }
  return seats;
}

export function reportUnseated(
  fitted: readonly Fitted[],
  seats: ReadonlyMap<string, Seat>,
  { recorder }: ApplianceContext,
): void {
  for (const { name, node } of fitted) {
    if (!seats.has(name) && node.name) recorder.problem(attachmentWithoutSeat.at(node.name.span, name));
  }
}

/** Nominal place of the first seat along the wire: the frame's origin. */
export function originOf(layout: Layout): Vec3 {
  return layout.seats[0]?.pose.position ?? zeroVector;
}

/** In order along the wire; attachments without a seat, or whose directions are not known, are left out. */
export function seatedAttachments(
  fitted: readonly Fitted[],
  seats: ReadonlyMap<string, Seat>,
  origin: Vec3,
  distally: boolean,
  { site, recorder }: ApplianceContext,
): Attachment[] {
  return fitted
    .flatMap((one) => {
      const seat = seats.get(one.name);
      if (!seat) return [];
      if (site.kind === 'quadrant') return [attachmentOf(one, seat, origin, identityMatrix, distally)];
      const axes = localAxes(one.tooth, one.facing, seat);
      if (typeof axes === 'string') {
        recorder.problem(slotDirectionUnknown.at(one.node.name?.span ?? one.node.span, one.name, axes));
        return [];
      }
      const backwards = dot(column(seat.pose.axes, 0), column(axes, 0)) < 0;
      return [attachmentOf(one, seat, origin, axes, backwards)];
    })
    .sort((a, b) => a.station - b.station);
}

/** Warns of seats that the nominal shape puts out of line, and looks for the bend that is to blame. */
export function checkLine(
  path: PathMember,
  fitted: readonly Fitted[],
  seats: ReadonlyMap<string, Seat>,
  attachments: ReadonlyMap<string, Definition>,
  layout: Layout,
  context: ApplianceContext,
): void {
  const first = layout.seats[0];
  if (!first) return;
  for (const one of fitted) {
    const seat = seats.get(one.name);
    const posed = one.at || one.moved || one.turn;
    if (!seat || seat === first || posed || isInLine(one, seatDeviation(seat, first))) continue;
    const culprit = writtenBends(path.body)
      .slice(0, MOST_TRIALS)
      .find((bend) => {
        const trial = layOutOnTrial(path, attachments, context, new Set([bend]));
        const trialFirst = trial.seats[0];
        const trialSeat = trial.seats.find(({ name }) => name === one.name);
        return trialFirst && trialSeat && isInLine(one, seatDeviation(trialSeat, trialFirst));
      });
    reportOutOfLine(one, seat, first, culprit, context.shape);
  }
}

/** Longer paths are laid out again only for their first bends. */
const MOST_TRIALS = 16;
