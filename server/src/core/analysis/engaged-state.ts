/** The record of one equilibrium from the solver's state: forces, outline, stresses and loops, in the outer frame. */
import { type ApplianceDesign, drawnThrough, type Pose } from '../design';
import { type Centreline, poseAt } from '../geometry/centreline';
import { type Foot, loopState } from '../geometry/loop-read-outs';
import { type OutlineDraft, outlineBetween } from '../geometry/outline';
import { compose, relativeTo, slide, turnRound } from '../geometry/pose';
import { handedness, quaternionMatrix } from '../math/rotation';
import { add, applyTransposed, norm, scale, subtract, type Vec3, zeroVector } from '../math/vector';
import type { HeldSpan } from '../mechanics/held-span';
import type { HeldWire } from '../mechanics/held-wire';
import { type PlacedSpan, seatAt, spanFrame } from '../mechanics/placed-span';
import { isStable } from '../mechanics/stability';
import { clamps, halfLength } from '../mechanics/stretches';
import type { WireControls } from '../mechanics/wire-controls';
import { type OuterWrench, type SpanReactions, spanReactions } from '../mechanics/wrench';
import type { EngagedState, LoadState, Wrench } from './analysis';
import { footInSpan, type StressedDraft, sampleSpan } from './span-samples';
import { loadState, seatedWithPlay, seatShift } from './supported-wire';
import { type WireBearing, wireBearing } from './wire-bearing';

/** What all states of one wire share. */
export interface WireRecord {
  readonly design: ApplianceDesign;
  readonly spans: readonly PlacedSpan[];
  readonly controls: WireControls;
  readonly bears: WireBearing;
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
  { spans, controls }: HeldWire,
  passive: Centreline,
  kernel?: Kernel,
): WireRecord {
  const first = spans[0];
  const last = spans[spans.length - 1];
  return {
    design,
    spans,
    controls,
    bears: wireBearing(design),
    passive,
    kernel,
    tails: {
      low: tail(passive, Math.min(first.from, first.to), 'low'),
      high: tail(passive, Math.max(last.from, last.to), 'high'),
    },
  };
}

export function engagedState(record: WireRecord, motion: number, neutral: number, iterations: number): EngagedState {
  const { design, spans, kernel = elasticKernel } = record;
  const draft: StressedDraft = { stations: [], points: [], sides: [], stresses: [], ratios: [], uses: [] };
  const wrenches: OuterWrench[] = design.attachments.map((_, k) => ({
    place: seatAt(design, k, motion).position,
    force: zeroVector,
    moment: zeroVector,
  }));
  const residual = { force: 0, moment: 0 };
  let stable = true;
  writeTail(record, 'low', motion, draft);
  for (const placed of spans) {
    const reactions = kernel.reactions(design, placed, motion);
    for (const { attachment, wrench } of reactions.wrenches) addWrench(wrenches, attachment, wrench);
    residual.force = Math.max(residual.force, reactions.residual.force);
    residual.moment = Math.max(residual.moment, reactions.residual.moment);
    stable = stable && kernel.stable(placed);
    sampleSpan(placed, spanFrame(design, placed, motion), drawnAtStart(placed), record.bears, draft);
  }
  writeTail(record, 'high', motion, draft);
  const loads = design.loads.map((_, k) => loadState(design, spans, k, motion));
  addLoads(wrenches, design, loads);
  let worst = 0;
  for (let k = 1; k < draft.ratios.length; k++) if (draft.ratios[k] > draft.ratios[worst]) worst = k;
  return {
    motion,
    activation: motion - neutral,
    wrenches: wrenches.map(({ force, moment }, k): Wrench => {
      const { axes } = design.attachments[k];
      // Axes of the patient's left side are a mirror image, in which a moment keeps its sense and changes its sign.
      return { force: applyTransposed(axes, force), moment: scale(applyTransposed(axes, moment), handedness(axes)) };
    }),
    places: wrenches.map(({ place }) => place),
    slid: slidAmounts(record, motion),
    seated: design.attachments.map((_, k) => seatedWithPlay(design, spans, k, motion)),
    loads,
    stress: draft.stresses[worst],
    stressStation: draft.stations[worst],
    elasticUse: draft.uses.reduce((most, use) => Math.max(most, use), 0),
    stresses: draft.stresses,
    uses: draft.uses,
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

/** Per attachment, wire that has passed it in the wire's own direction, mm. */
export function slidAmounts(record: WireRecord, motion: number): readonly number[] {
  return record.design.attachments.map((_, k) => slidAt(record, k, motion));
}

/** Wire that has passed an attachment, mm. One that only supports the wire is passed by the wire's seat. */
function slidAt(record: WireRecord, attachment: number, motion: number): number {
  const { design, spans } = record;
  if (clamps(design, attachment)) return slidThrough(record, attachment, motion);
  return seatShift(design, spans, attachment, motion) ?? 0;
}

/** The tooth bears what pulls at its attachment. */
function addLoads(wrenches: OuterWrench[], { loads }: ApplianceDesign, states: readonly LoadState[]): void {
  for (const [k, { from, to }] of loads.entries()) {
    const { force, places } = states[k];
    const way = subtract(places[1], places[0]);
    const pull = scale(way, force / Math.max(norm(way), Number.MIN_VALUE));
    if (from.on === 'attachment') addForce(wrenches, from.attachment, pull);
    if (to.on === 'attachment') addForce(wrenches, to.attachment, scale(pull, -1));
  }
}

function addForce(wrenches: OuterWrench[], k: number, force: Vec3): void {
  wrenches[k] = { ...wrenches[k], force: add(wrenches[k].force, force) };
}

function addWrench(wrenches: OuterWrench[], k: number, { place, force, moment }: OuterWrench): void {
  wrenches[k] = { place, force: add(wrenches[k].force, force), moment: add(wrenches[k].moment, moment) };
}

/** Wire drawn out of a span at its start, or slid past the support that begins a loose one, in the direction of integration, mm. */
function drawnAtStart({ held }: PlacedSpan): number {
  if (held.span.loose) return slidAtEnd(held, 'start');
  return held.drives.reduce((sum, { kind, sign, amount }) => sum + (kind === 'draw-start' ? sign * amount : 0), 0);
}

/** How far the wire has been drawn through the first or last attachment, away from the other attachments, mm. */
function drawnOut(record: WireRecord, which: 'low' | 'high', motion: number): number {
  const { design, spans } = record;
  const { held, start, end, reversed } = spans[which === 'low' ? 0 : spans.length - 1];
  const side = reversed === (which === 'low') ? 'end' : 'start';
  // A free end goes along with the last support before it.
  if ((side === 'start' ? start : end) === undefined) return (side === 'start' ? 1 : -1) * slidAtEnd(held, side);
  const attachment = which === 'low' ? 0 : design.attachments.length - 1;
  return (which === 'low' ? -1 : 1) * slidThrough(record, attachment, motion);
}

/**
 * How far ahead of its place in the wire, in the direction of integration, an end of a span stands that nothing holds, mm: it goes along
 * with a support next to it.
 */
function slidAtEnd({ span: { supports, mesh } }: HeldSpan, side: 'start' | 'end'): number {
  const k = supports ? supports.nodes.indexOf(side === 'start' ? 1 : mesh.steps - 1) : -1;
  return supports && k >= 0 ? supports.slid[k] - supports.offset[k] : 0;
}

/** Wire that has passed an attachment that clamps it, in the wire's own direction, mm. */
function slidThrough({ design, controls }: WireRecord, attachment: number, motion: number): number {
  const control = controls.attachments.indexOf(attachment);
  return control < 0 ? drawnThrough(design, attachment, motion) : controls.amounts[control + 1];
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

/** Pose of the wire where a tail meets the free span: the slot's edge, or, where the wire is not clamped, whatever it does there. */
function edgePose({ design, spans }: WireRecord, which: 'low' | 'high', motion: number): Pose {
  const index = which === 'low' ? 0 : design.attachments.length - 1;
  const placed = spans[which === 'low' ? 0 : spans.length - 1];
  const clamp = placed.reversed === (which === 'low') ? placed.end : placed.start;
  if (clamp !== index || !clamps(design, index)) return wireEnd(design, placed, which, motion);
  const half = halfLength(design.attachments[index]);
  return slide(seatAt(design, index, motion), which === 'low' ? half : -half);
}

/** Pose of the wire at a span's lower or upper end, facing the wire's own direction. */
function wireEnd(design: ApplianceDesign, placed: PlacedSpan, which: 'low' | 'high', motion: number): Pose {
  const { rotation, position, mesh } = placed.held.span;
  const node = placed.reversed === (which === 'low') ? mesh.steps : placed.held.span.loose ? 1 : 0;
  const pose = compose(spanFrame(design, placed, motion), {
    position: [position[3 * node], position[3 * node + 1], position[3 * node + 2]],
    axes: quaternionMatrix(rotation, 4 * node),
  });
  return placed.reversed ? turnRound(pose) : pose;
}

function writeTail(record: WireRecord, which: 'low' | 'high', motion: number, draft: StressedDraft): void {
  const { edge, outline } = record.tails[which];
  const drawn = drawnOut(record, which, motion);
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
    draft.ratios.push(0);
    draft.uses.push(0);
  }
}

function footAt(record: WireRecord, station: number, side: 'before' | 'after', motion: number): Foot {
  const { design, spans, passive } = record;
  for (const placed of spans) {
    const foot = footInSpan(placed, spanFrame(design, placed, motion), drawnAtStart(placed), station, side);
    if (foot) return foot;
  }
  // In a slot or a tail: rigid with the wire at the nearer attachment.
  const low = station < record.tails.high.edge;
  const { edge } = record.tails[low ? 'low' : 'high'];
  const drawn = drawnOut(record, low ? 'low' : 'high', motion);
  const inverse = poseAt(passive, edge, low ? 'before' : 'after');
  const pose = compose(
    slide(edgePose(record, low ? 'low' : 'high', motion), low ? -drawn : drawn),
    relativeTo(inverse, poseAt(passive, station, side)),
  );
  return { position: pose.position, tangent: [pose.axes[0], pose.axes[3], pose.axes[6]] };
}
