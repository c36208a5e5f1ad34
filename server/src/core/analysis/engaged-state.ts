/** The record of one equilibrium from the solver's state: forces, outline, stresses and loops, in the outer frame. */
import type { ApplianceDesign, Pose } from '../design';
import { type Centreline, poseAt } from '../geometry/centreline';
import { type Foot, loopState } from '../geometry/loop-read-outs';
import { type OutlineDraft, outlineBetween } from '../geometry/outline';
import { compose, relativeTo, slide, turnRound } from '../geometry/pose';
import type { FibreStress } from '../material/fibre-stress';
import { handedness, quaternionMatrix } from '../math/rotation';
import { add, applyTransposed, scale, type Vec3, zeroVector } from '../math/vector';
import { halfLength, isPoint, type PlacedSpan, seatAt, spanFrame } from '../mechanics/held-wire';
import { isStable } from '../mechanics/stability';
import { type OuterWrench, type SpanReactions, spanReactions } from '../mechanics/wrench';
import type { EngagedState, Wrench } from './analysis';
import { footInSpan, type StressedDraft, sampleSpan } from './span-samples';

/** What all states of one wire share. */
export interface WireRecord {
  readonly design: ApplianceDesign;
  readonly spans: readonly PlacedSpan[];
  readonly stress: FibreStress;
  /** Wire before the first and behind the last free span, relative to the slot's edge there. */
  readonly tails: { readonly low: Tail; readonly high: Tail };
  readonly passive: Centreline;
  /** How reactions and stability are had from spans that another kernel solved. */
  readonly kernel?: Kernel;
}

export interface Kernel {
  readonly reactions: (design: ApplianceDesign, placed: PlacedSpan, motion: number) => SpanReactions;
  readonly stable: (placed: PlacedSpan) => boolean;
}

const elasticKernel: Kernel = { reactions: spanReactions, stable: ({ held }) => isStable(held) };

interface Tail {
  /** Station of the slot's edge on the free span's side, mm. */
  readonly edge: number;
  readonly outline: OutlineDraft;
}

export function wireRecord(
  design: ApplianceDesign,
  spans: readonly PlacedSpan[],
  stress: FibreStress,
  passive: Centreline,
  kernel?: Kernel,
): WireRecord {
  const first = design.attachments[0];
  const last = design.attachments[design.attachments.length - 1];
  return {
    design,
    spans,
    stress,
    passive,
    kernel,
    tails: {
      low: tail(passive, first.station + halfLength(first), 'low'),
      high: tail(passive, last.station - halfLength(last), 'high'),
    },
  };
}

export function engagedState(record: WireRecord, motion: number, neutral: number, iterations: number): EngagedState {
  const { design, spans, kernel = elasticKernel } = record;
  const draft: StressedDraft = { stations: [], points: [], sides: [], stresses: [] };
  const wrenches: OuterWrench[] = design.attachments.map(() => ({
    place: zeroVector,
    force: zeroVector,
    moment: zeroVector,
  }));
  const residual = { force: 0, moment: 0 };
  let stable = true;
  writeTail(record, 'low', motion, draft);
  for (const placed of spans) {
    const reactions = kernel.reactions(design, placed, motion);
    addWrench(wrenches, placed.start, reactions.start);
    addWrench(wrenches, placed.end, reactions.end);
    residual.force = Math.max(residual.force, reactions.residual.force);
    residual.moment = Math.max(residual.moment, reactions.residual.moment);
    stable = stable && kernel.stable(placed);
    sampleSpan(placed, spanFrame(design, placed, motion), drawnAtStart(placed, motion), record.stress, draft);
  }
  writeTail(record, 'high', motion, draft);
  let worst = 0;
  for (let k = 1; k < draft.stresses.length; k++) if (draft.stresses[k] > draft.stresses[worst]) worst = k;
  return {
    motion,
    activation: motion - neutral,
    wrenches: wrenches.map(({ force, moment }, k): Wrench => {
      const { axes } = design.attachments[k];
      // Axes of the patient's left side are a mirror image, in which a moment keeps its sense and changes its sign.
      return { force: applyTransposed(axes, force), moment: scale(applyTransposed(axes, moment), handedness(axes)) };
    }),
    places: wrenches.map(({ place }) => place),
    slid: design.attachments.map(() => 0),
    seated: design.attachments.map(() => undefined),
    loads: [],
    stress: draft.stresses[worst],
    stressStation: draft.stations[worst],
    stresses: draft.stresses,
    loops: design.loops.map((loop) =>
      loopState(
        footAt(record, loop.feet[0], 'after', motion),
        footAt(record, loop.feet[1], 'before', motion),
        loop.running,
        loop.normal,
      ),
    ),
    outline: { stations: draft.stations, points: draft.points, sides: draft.sides },
    residual,
    iterations,
    stable,
  };
}

function addWrench(wrenches: OuterWrench[], k: number, { place, force, moment }: OuterWrench): void {
  wrenches[k] = { place, force: add(wrenches[k].force, force), moment: add(wrenches[k].moment, moment) };
}

/** Wire drawn out of a span at its start, in the direction of integration, mm. */
function drawnAtStart(placed: PlacedSpan, motion: number): number {
  return placed.held.drive?.kind === 'draw-start' ? motion : 0;
}

/** How far the wire has been drawn through the first or last attachment, away from the free span, mm. */
function drawnThrough(design: ApplianceDesign, which: 'low' | 'high', motion: number): number {
  const drawn = design.activation?.motion;
  return drawn?.kind === 'pull' && drawn.attachment === (which === 'low' ? 0 : design.attachments.length - 1)
    ? motion
    : 0;
}

/** The wire beyond a slot's edge at the free span as an outline in the frame of that edge. */
function tail(passive: Centreline, edge: number, which: 'low' | 'high'): Tail {
  const inverse = poseAt(passive, edge, which === 'low' ? 'before' : 'after');
  const whole = outlineBetween(passive, 0, passive.elements.length);
  const outline: OutlineDraft = { stations: [], points: [], sides: [] };
  for (let k = 0; k < whole.stations.length; k++) {
    const station = whole.stations[k];
    if (which === 'low' ? station >= edge : station <= edge) continue;
    const position: Vec3 = [whole.points[3 * k], whole.points[3 * k + 1], whole.points[3 * k + 2]];
    const side: Vec3 = [whole.sides[3 * k], whole.sides[3 * k + 1], whole.sides[3 * k + 2]];
    outline.stations.push(station);
    outline.points.push(...relativeTo(inverse, { position, axes: inverse.axes }).position);
    outline.sides.push(...applyTransposed(inverse.axes, side));
  }
  return { edge, outline };
}

/** Pose of the wire where a tail meets the free span: the slot's edge, or at a point whatever the wire does there. */
function edgePose({ design, spans }: WireRecord, which: 'low' | 'high', motion: number): Pose {
  const index = which === 'low' ? 0 : design.attachments.length - 1;
  const attachment = design.attachments[index];
  if (isPoint(attachment)) return wireEnd(design, spans[which === 'low' ? 0 : spans.length - 1], motion);
  const half = halfLength(attachment);
  return slide(seatAt(design, index, motion), which === 'low' ? half : -half);
}

/** Pose of the wire at the end of its integration, facing the wire's own direction. */
function wireEnd(design: ApplianceDesign, placed: PlacedSpan, motion: number): Pose {
  const { rotation, position, mesh } = placed.held.span;
  const pose = compose(spanFrame(design, placed, motion), {
    position: [position[3 * mesh.steps], position[3 * mesh.steps + 1], position[3 * mesh.steps + 2]],
    axes: quaternionMatrix(rotation, 4 * mesh.steps),
  });
  return placed.reversed ? turnRound(pose) : pose;
}

function writeTail(record: WireRecord, which: 'low' | 'high', motion: number, draft: StressedDraft): void {
  const { edge, outline } = record.tails[which];
  const drawn = drawnThrough(record.design, which, motion);
  const pose = slide(edgePose(record, which, motion), which === 'low' ? -drawn : drawn);
  for (let k = 0; k < outline.stations.length; k++) {
    const station = outline.stations[k];
    // Wire paid into the span is no longer part of the tail.
    if (which === 'low' ? station >= edge + drawn : station <= edge - drawn) continue;
    const [x, y, z] = outline.points.slice(3 * k, 3 * k + 3);
    const [a, b, c] = outline.sides.slice(3 * k, 3 * k + 3);
    draft.stations.push(station);
    draft.points.push(...compose(pose, { position: [x, y, z], axes: pose.axes }).position);
    const { axes } = pose;
    draft.sides.push(
      axes[0] * a + axes[1] * b + axes[2] * c,
      axes[3] * a + axes[4] * b + axes[5] * c,
      axes[6] * a + axes[7] * b + axes[8] * c,
    );
    draft.stresses.push(0);
  }
}

function footAt(record: WireRecord, station: number, side: 'before' | 'after', motion: number): Foot {
  const { design, spans, passive } = record;
  for (const placed of spans) {
    const foot = footInSpan(placed, spanFrame(design, placed, motion), drawnAtStart(placed, motion), station, side);
    if (foot) return foot;
  }
  // In a slot or a tail: rigid with the wire at the nearer attachment.
  const low = station < record.tails.high.edge;
  const { edge } = record.tails[low ? 'low' : 'high'];
  const drawn = drawnThrough(design, low ? 'low' : 'high', motion);
  const inverse = poseAt(passive, edge, low ? 'before' : 'after');
  const pose = compose(
    slide(edgePose(record, low ? 'low' : 'high', motion), low ? -drawn : drawn),
    relativeTo(inverse, poseAt(passive, station, side)),
  );
  return { position: pose.position, tangent: [pose.axes[0], pose.axes[3], pose.axes[6]] };
}
