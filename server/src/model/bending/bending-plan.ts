/** How to bend an appliance from a straight wire: the table of its bends, marks, order of work, and what to look out for. */
import type { EngagedState } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { type BendingRow, type BendingTable, bendingTable, rollBefore } from '#core/forming/bending-table';
import { type Deviation, roundedTable, toStep } from '#core/forming/rounded-table';
import { loadOf, thicknessAcross } from '../formed-bends';
import { DEFAULTS } from '../provenance';
import type { EvaluatedAppliance, PathStep } from '../resolved';
import type { Site } from '../site';
import { bendsOpened } from './opened-bends';
import { orderOfWork, type WorkStep } from './order-of-work';

export interface BendingPlanOptions {
  /** Wire to hold it by at each end, mm: common practice. */
  readonly holding: number;
  /** Width of the plier's beaks at their tips, mm: common practice, no source. */
  readonly beakWidth: number;
}

export const USUAL_BENCH: BendingPlanOptions = { holding: DEFAULTS.holding.value.value, beakWidth: 1 };

/** mm and rad, in printed steps. The wire lies with its start toward the bender and runs away from him. */
export interface BendingPlan {
  readonly options: BendingPlanOptions;
  /** Whole wire to cut, and without what it is held by. */
  readonly cutLength: number;
  readonly developedLength: number;
  readonly lengthStep: number;
  readonly angleStep: number;
  /** Of a wire bent exactly by the table, from the passive shape. */
  readonly deviation: Deviation;
  /** From the cut end to the first bend. */
  readonly lead: number;
  readonly bends: readonly PlannedBend[];
  readonly order: readonly WorkStep[];
  /** Activation from neutral, mm, to which it is pulled on trial; undefined where nothing is activated. */
  readonly trialActivation: number | undefined;
  readonly warnings: readonly PlanWarning[];
  /** The same table without rounding. */
  readonly exact: BendingTable;
}

export interface PlannedBend {
  readonly kind: BendingRow['kind'];
  /** Of the step that asks for it; of an arch form that is followed, `follow`. */
  readonly step: PathStep | undefined;
  /** Bent last, for what it does when engaged. */
  readonly preactivation: boolean;
  /** Where it begins on the straight wire, from its cut end by the start, and from its middle (negative: toward the start). */
  readonly fromEnd: number;
  readonly fromMiddle: number;
  /** Straight wire before it, from where the bend before ends, or from the cut end. */
  readonly before: number;
  /** To the next bend, or to the cut end. */
  readonly toNext: number;
  /** Clockwise, before it is bent. */
  readonly roll: number;
  /** Positive: up. Of a twist: clockwise, of the wire beyond. */
  readonly angle: number;
  /** Centre line and inside; 0 for a sharp corner, undefined for a twist. */
  readonly radius: number | undefined;
  readonly innerRadius: number | undefined;
  /** Positive winds right-handed. */
  readonly pitch: number;
  /** Wire that it takes. */
  readonly length: number;
  /** To bend to under load, so that it springs back; absent for twists and sharp corners. A bend that is bent back comes `back` from there. */
  readonly load:
    | { readonly angle: number; readonly innerRadius: number; readonly back: number | undefined }
    | undefined;
}

export type PlanWarning =
  /** Straight wire between the two, mm, less than a beak is wide. Bends are counted from 0. */
  | { readonly kind: 'close'; readonly bends: readonly [number, number]; readonly straight: number }
  /** The activation opens it by this much, rad, beyond the shape that it was bent to. */
  | { readonly kind: 'opened'; readonly bend: number; readonly by: number; readonly activation: number };

export function bendingPlan(
  evaluated: EvaluatedAppliance,
  options: BendingPlanOptions = USUAL_BENCH,
): BendingPlan | undefined {
  const { appliance } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  if (design === undefined) return undefined;
  const mirrored = isMirrored(appliance.site);
  const exact = withHolding(bendingTable(design.elements, mirrored), options.holding);
  const printed = roundedTable(exact);
  const { lengthStep, angleStep, deviation } = printed;
  const developed = design.elements.reduce((sum, { length }) => sum + length, 0);
  const middle = options.holding + developed / 2;
  let station = exact.lead;
  const bends = printed.rows.map((row, index): PlannedBend => {
    const own = exact.rows[index];
    const fromEnd = station;
    station += own.length + own.toNext;
    const element = design.elements[row.element];
    const step = appliance.steps.find(({ elements: [from, to] }) => row.element >= from && row.element < to);
    const { section, alloy } = element.stock ?? design;
    const thickness =
      row.kind === 'twist' ? 0 : thicknessAcross(section, [0, -Math.sin(own.plane), Math.cos(own.plane)]);
    const left = { angle: Math.abs(own.angle), radius: own.radius };
    const furthest = step?.backFrom === undefined || step.angle === undefined ? 1 : step.backFrom / step.angle;
    const formed = own.radius > 0 ? loadOf(section, alloy, thickness, left, furthest) : undefined;
    const underLoad = (angle: number): number => toStep(angle, LOAD_ANGLE_STEP) * Math.sign(own.angle);
    const inside = (radius: number): number => toStep(Math.max(radius - thickness / 2, 0), RADIUS_STEP);
    return {
      kind: row.kind,
      step,
      preactivation: element.preactivation.some((turn) => turn !== 0),
      fromEnd: toStep(fromEnd, lengthStep),
      fromMiddle: toStep(fromEnd - middle, lengthStep),
      before: printed.rows[index - 1]?.toNext ?? printed.lead,
      toNext: row.toNext,
      roll: rollBefore(printed.rows, index),
      angle: row.angle,
      radius: row.kind === 'twist' ? undefined : row.radius,
      innerRadius: row.kind === 'twist' ? undefined : row.radius === 0 ? 0 : inside(own.radius),
      pitch: row.pitch,
      length: row.kind === 'twist' ? row.length : own.length,
      load: formed && {
        angle: underLoad(formed.load.angle),
        innerRadius: inside(formed.load.radius),
        back: formed.back === undefined ? undefined : underLoad(formed.back),
      },
    };
  });
  const stage = workingState(evaluated);
  const planned = { bends, exact };
  return {
    ...{ options, lengthStep, angleStep, deviation, lead: printed.lead, ...planned },
    cutLength: toStep(developed + 2 * options.holding, lengthStep),
    developedLength: developed,
    order: orderOfWork(planned, middle, design.loops, options.holding),
    trialActivation: trialOf(design),
    warnings: [
      ...bendsTooClose(bends, exact.rows, options.beakWidth),
      ...(stage ? bendsOpened(design, planned, stage) : []),
    ],
  };
}

/** As the file asks, otherwise to the last stage; none where nothing is activated. */
function trialOf({ activation, trialActivation }: ApplianceDesign): number | undefined {
  const amount = trialActivation ?? Math.max(...(activation?.stages ?? []));
  return amount > 0 ? amount : undefined;
}

/** Whether the frame in which an appliance is computed is the mirror image of the patient's own side. */
export function isMirrored({ kind, arch, side }: Site): boolean {
  return kind === 'arch' ? arch === 'lower' : (arch === 'upper') !== (side !== 'left');
}

/** With the wire that its ends are held by. */
function withHolding({ lead, rows }: BendingTable, holding: number): BendingTable {
  return {
    lead: lead + (rows.length === 0 ? 2 : 1) * holding,
    rows: rows.map((row, index) => (index === rows.length - 1 ? { ...row, toNext: row.toNext + holding } : row)),
  };
}

function workingState({ analysis, workingActivation = 0 }: EvaluatedAppliance): EngagedState | undefined {
  const states = (analysis?.stages ?? []).flatMap(({ state }) => state ?? []);
  const distance = ({ activation }: EngagedState): number => Math.abs(activation - workingActivation);
  return states.length === 0 ? undefined : states.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}

/** Sharp corners count as well: a real one has a radius and leaves still less. Arcs of an arch form go on from one another. */
function bendsTooClose(
  bends: readonly PlannedBend[],
  exact: readonly BendingRow[],
  beakWidth: number,
): readonly PlanWarning[] {
  return exact.flatMap((row, index): PlanWarning[] => {
    const next = exact[index + 1];
    if (next === undefined || row.kind === 'twist' || next.kind === 'twist') return [];
    const followed = bends[index].step?.kind === 'follow' && bends[index + 1].step?.kind === 'follow';
    const same =
      row.toNext < SAME_PLACE &&
      Math.abs(row.plane - next.plane) < SAME_PLANE &&
      Math.sign(row.angle) === Math.sign(next.angle);
    const pressed = [row, next].some(({ radius, angle }) => radius === 0 && Math.abs(angle) < PRESSED_LEAN);
    if (followed || same || pressed || row.toNext >= beakWidth - SAME_PLACE) return [];
    return [{ kind: 'close', bends: [index, index + 1], straight: row.toNext }];
  });
}

/** A corner that leans less is pressed in with the fingers, which need no room: common practice, no source. rad */
const PRESSED_LEAN = (10 * Math.PI) / 180;
/** mm and rad */
const SAME_PLACE = 1e-6;
const SAME_PLANE = 1e-6;
/** Beaks are turned to twentieths of a mm, and no springback estimate is good to less than half a degree. */
const RADIUS_STEP = 0.05;
const LOAD_ANGLE_STEP = (0.5 * Math.PI) / 180;
