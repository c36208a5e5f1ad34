/** What is to be said of the visits: that they cannot be followed, do not reach their end, or come too late. */
import type { Failure } from '#core/analysis/analysis';
import { norm } from '#core/math/vector';
import type { Course, CoursePoint } from '#core/response/visits';
import { FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import { headOf } from '../appliance/context';
import { activationUsedUp } from '../diagnostics/activation-used-up';
import { spaceNotClosed } from '../diagnostics/space-not-closed';
import { visitsNotFollowed } from '../diagnostics/visits-not-followed';
import type { Problem } from '../problem';
import type { ResolvedAppliance } from '../resolved';
import { weekOf } from '../results';
import type { VisitPlan } from '../visit-plan';
import { failurePhrase } from './failure-phrase';

export function visitProblems(
  { visits, design }: ResolvedAppliance,
  plan: VisitPlan | Failure | undefined,
  text: string,
  preferences: UnitPreferences,
): Problem[] {
  if (!visits || !plan) return [];
  const span = headOf(visits.node.span, text);
  if ('reason' in plan) return [visitsNotFollowed.at(span, 'from the first visit on', failurePhrase(plan))];
  const { usual } = plan;
  const { close, activate } = visits.rule;
  const week = shownWeek(usual.duration);
  const found: Problem[] = [];
  if (usual.end.kind === 'no-equilibrium')
    found.push(visitsNotFollowed.at(span, `after week ${week}`, failurePhrase(usual.end.failure)));
  if (usual.end.kind === 'too-fast')
    found.push(
      visitsNotFollowed.at(
        span,
        `after week ${week}`,
        'the wire is so stiff that at this rate the teeth would follow it at once',
      ),
    );
  const last = usual.points[usual.points.length - 1];
  if (usual.end.kind === 'not-reactivated')
    found.push(
      spaceNotClosed.at(span, `week ${week}`, shown(last.closed), {
        why: `the wire cannot be activated again: ${failurePhrase(usual.end.failure)}`,
        wanted: close && shown(close.amount),
      }),
    );
  const opens = last.closed < OPENING;
  if (close && (usual.end.kind === 'time-is-up' || (opens && usual.end.kind !== 'not-reactivated')))
    found.push(
      spaceNotClosed.at(span, `week ${week}`, shown(last.closed), {
        why: opens ? 'the teeth move the other way: the space opens' : 'the time is up',
        wanted: shown(close.amount),
      }),
    );
  const pulled = design?.activation?.motion.attachment;
  const idle = pulled === undefined || activate === undefined ? undefined : firstIdle(usual, pulled);
  if (idle) {
    const [left, once] = [idle.left, idle.once].map((value) =>
      formatQuantity({ value, dimension: FORCE }, preferences),
    );
    found.push(activationUsedUp.at(span, shownWeek(idle.time), left, once));
  }
  return found;
}

/** A visit at which less than a quarter of the pull is left that was there after the visit before, N. */
function firstIdle({ visits }: Course, attachment: number) {
  const pull = ({ state }: CoursePoint) => norm(state.wrenches[attachment].force);
  for (let k = 1; k < visits.length; k++) {
    const [once, left] = [pull(visits[k - 1].left), pull(visits[k].found)];
    if (left < IDLE * once) return { time: visits[k].time, once, left };
  }
  return undefined;
}

const IDLE = 0.25;
/** mm */
const OPENING = -0.05;

function shown(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

function shownWeek(time: number): string {
  return String(Math.round(weekOf(time)));
}
