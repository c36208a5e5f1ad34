/** The visits as a table and in a sentence: what editor, report, preview, sheet and card show of them. */
import type { CoursePoint, Visit } from '#core/response/visits';
import { FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import type { ResolvedAppliance } from './resolved';
import { weekOf } from './results';
import { groupFigures } from './tooth-movement';
import { spreadOf, type VisitPlan } from './visit-plan';

export interface VisitTable {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A row for each visit: what is found, what is done. */
export function visitRows(
  { design }: Pick<ResolvedAppliance, 'design'>,
  { usual }: VisitPlan,
  units: UnitPreferences,
): VisitTable {
  const loops = design?.loops ?? [];
  const closes = usual.points.some(({ closed }) => closed !== 0);
  return {
    head: [
      'week',
      ...(closes ? ['closed'] : []),
      ...loops.map(({ name }) => (loops.length === 1 ? 'leg gap' : `leg gap of ${name}`)),
      ...(design?.groups ?? []).map(({ name }) => `on ${name}`),
      'what is done',
    ],
    rows: usual.visits.map((visit) => [
      String(Math.round(weekOf(visit.time))),
      ...(closes ? [length(visit.found.closed)] : []),
      ...loops.map((_, k) => change(visit, (point) => length(point.state.loops[k].legGap))),
      ...(design?.groups ?? []).map((_, k) => change(visit, (point) => pullOn(point, k, units))),
      doneWords(visit),
    ]),
  };
}

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

function doneWords({ done, found, left }: Visit): string {
  switch (done) {
    case 'engaged':
      return 'engage';
    case 'activated':
      return `engage and activate by ${length(left.state.activation)}`;
    case 'reactivated':
      return `draw ${length(left.state.motion - found.state.motion)} of wire, to ${length(left.state.activation)} of activation`;
    case 'left':
      return 'leave as it is';
    case 'ended':
      return 'end';
  }
}

function range({ low, high }: { readonly low: number; readonly high: number }): string {
  const [least, most] = [Math.round(low), Math.round(high)];
  return least === most ? '' : ` (${least} to ${most})`;
}

/** What is found, and what it is after the wire was drawn. */
function change({ done, found, left }: Visit, figure: (point: CoursePoint) => string): string {
  return done === 'reactivated' ? `${figure(found)} → ${figure(left)}` : figure(left);
}

function pullOn({ design, state }: CoursePoint, group: number, units: UnitPreferences): string {
  const { wrench } = groupFigures(design, state)[group];
  const [along] = wrench.force;
  return `${formatQuantity({ value: Math.abs(along), dimension: FORCE }, units)} ${along < 0 ? 'distal' : 'mesial'}`;
}

/** To the tenth that can be read in a mouth; more would be false precision. */
function length(value: number): string {
  return formatQuantity({ value: Math.round(value * 10) / 10 || 0, dimension: LENGTH });
}
