/** Groups of teeth and visits as the public contract has them. */
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { applyTransposed, subtract, type Vec3 } from '#core/math/vector';
import type { Course, CoursePoint, GroupPlace } from '#core/response/visits';
import { SPEED, STRESS, TIME } from '#core/units/dimension';
import { valueIn } from '#core/units/unit';
import { reinforced } from '#model/anchorage';
import type { EvaluatedAppliance, ResolvedAppliance } from '#model/resolved';
import { weekOf } from '#model/results';
import { type GroupFigures, groupFigures, type PlaneFigures } from '#model/tooth-movement';
import { rounded } from './rounded';
import type { ReportToothGroup, ReportVisits } from './tooth-response-schema';

/** `state` is that of the working activation. */
export function reportGroups(
  appliance: ResolvedAppliance,
  design: ApplianceDesign,
  state: EngagedState | undefined,
): ReportToothGroup[] {
  const figures = state ? groupFigures(design, state) : [];
  return design.groups.map((group, k) => {
    const described = appliance.groups.find(({ name }) => name === group.name);
    const own: GroupFigures | undefined = figures[k];
    const more = own && reinforced(appliance, k);
    const from = design.attachments[group.attachments[0]].seatedWire.position;
    return {
      name: group.name,
      attachments: group.attachments.map((index) => design.attachments[index].name),
      teeth: (described?.teeth ?? []).map(({ number }) => number),
      bothSides: group.bothSides,
      resistance: {
        known: described?.resistance ?? 'given',
        ...triple(applyTransposed(group.axes, subtract(group.resistance, from))),
      },
      rootLength: orNull(group.rootLength),
      rootSurface: orNull(group.rootArea),
      force: own ? triple(own.wrench.force) : null,
      moment: own ? triple(own.wrench.moment) : null,
      along: movement(own?.along),
      across: movement(own?.across),
      rootPressure: orNull(
        own?.rootPressure === undefined ? undefined : valueIn({ value: own.rootPressure, dimension: STRESS }, 'kPa'),
      ),
      closureShare: orNull(own?.closureShare),
      reinforced: more ? { tooth: more.tooth.number, closureShare: rounded(more.share) } : null,
    };
  });
}

/** Undefined where the file has no visits, or something that they need is wrong. */
export function reportVisits({ appliance, plan }: EvaluatedAppliance): ReportVisits | undefined {
  const { visits, design } = appliance;
  if (!visits || !design || !plan) return undefined;
  const { interval, activate, close, rate } = visits.rule;
  const heading = {
    everyWeeks: rounded(weekOf(interval)),
    activate: orNull(activate),
    close: close
      ? {
          amount: rounded(close.amount),
          between: close.between.map((k) => design.attachments[k].name) as [string, string],
        }
      : null,
  };
  if ('reason' in plan) return { ...heading, status: plan.reason, visits: [], courses: [] };
  const rates = { usual: rate, friction: rate, slow: visits.rates?.low ?? rate, fast: visits.rates?.high ?? rate };
  const courseOf = (what: keyof typeof rates, course: Course): ReportVisits['courses'][number] => ({
    rate: what,
    millimetresPerMonth: rounded(valueIn({ value: rates[what], dimension: SPEED }, 'mm/month')),
    weeks: rounded(weekOf(course.duration)),
    reactivations: course.reactivations,
    end: course.end.kind,
    groups: placesAt(design, course.points[course.points.length - 1].groups),
  });
  return {
    ...heading,
    status: 'followed',
    visits: plan.usual.visits.map(({ time, done, found, left }) => ({
      week: rounded(valueIn({ value: time, dimension: TIME }, 'weeks')),
      done,
      found: reading(design, found),
      left: reading(design, left),
    })),
    courses: [courseOf('usual', plan.usual), ...plan.others.map(({ what, course }) => courseOf(what, course))],
  };
}

function reading(design: ApplianceDesign, point: CoursePoint): ReportVisits['visits'][number]['found'] {
  const { state, closed, groups } = point;
  return {
    activation: rounded(state.activation),
    motion: rounded(state.motion),
    closed: rounded(closed),
    loops: state.loops.map(({ legGap, legAngle }, k) => ({
      name: design.loops[k].name,
      legGap: rounded(legGap),
      legAngle: degrees(legAngle),
    })),
    groups: groupFigures(point.design, state).map(({ group, wrench, along }) => ({
      name: group.name,
      force: triple(wrench.force),
      moment: triple(wrench.moment),
      lineOfAction: orNull(along?.lineOfAction),
    })),
    places: placesAt(design, groups),
  };
}

function placesAt({ groups }: ApplianceDesign, places: readonly GroupPlace[]) {
  return places.map(({ moved, crownMoved, turned }, k) => ({
    name: groups[k].name,
    moved: triple(moved),
    crownMoved: triple(crownMoved),
    turned: { tip: degrees(turned[2]), rotation: degrees(turned[1]), torque: degrees(turned[0]) },
  }));
}

function movement(figures: PlaneFigures | undefined): ReportToothGroup['along'] {
  if (!figures) return null;
  const { words, lineOfAction, rotationCentre, rotationRange } = figures;
  return {
    words,
    lineOfAction: orNull(lineOfAction),
    rotationCentre: orNull(rotationCentre),
    rotationRange: rotationRange ? [rounded(rotationRange[0]), rounded(rotationRange[1])] : null,
  };
}

function triple([mesial, gingival, buccal]: Vec3) {
  return { mesial: rounded(mesial), gingival: rounded(gingival), buccal: rounded(buccal) };
}

function degrees(angle: number): number {
  return rounded((angle * 180) / Math.PI);
}

function orNull(value: number | undefined): number | null {
  return value === undefined ? null : rounded(value);
}
