/** How long an appliance's visits take, in words and weeks. */
import { weekOf } from './results';
import { spreadOf, type VisitPlan } from './visit-plan';

/** e.g. "closed after 22 weeks (18 to 28), 2 reactivations (1 to 3)" */
export function closingWords(plan: VisitPlan): string {
  const weeks = spreadOf(plan, ({ duration }) => weekOf(duration));
  const reactivations = spreadOf(plan, (course) => course.reactivations);
  const time = `${Math.round(weeks.value)} weeks${range(weeks)}`;
  const often = `${reactivations.value} ${reactivations.value === 1 ? 'reactivation' : 'reactivations'}${range(reactivations)}`;
  const { kind } = plan.usual.end;
  const end = kind === 'closed' ? 'closed after' : kind === 'time-is-up' ? 'followed for' : 'followed as far as';
  return `${end} ${time}, ${often}`;
}

/** Week in which the fastest course has closed the space: seen later, it would go on for nothing. Undefined where none closes it. */
export function latestVisit({ usual, others }: VisitPlan): number | undefined {
  const closed = [usual, ...others.map(({ course }) => course)].filter(({ end }) => end.kind === 'closed');
  return closed.length > 0 ? Math.floor(Math.min(...closed.map(({ duration }) => weekOf(duration)))) : undefined;
}

function range({ low, high }: { readonly low: number; readonly high: number }): string {
  const [least, most] = [Math.round(low), Math.round(high)];
  return least === most ? '' : ` (${least} to ${most})`;
}
