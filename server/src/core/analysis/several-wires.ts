/** What several wires do to the teeth that they share. */
import type { ApplianceDesign } from '../design';
import { handedness } from '../math/rotation';
import { add, apply, applyTransposed, cross, scale, subtract, type Vec3, zeroVector } from '../math/vector';
import type { ApplianceAnalysis, EngagedState, Failure, StageResult, Wrench } from './analysis';
import { stateBetween } from './between-stages';

export interface FurtherWire {
  readonly name: string;
  /** With an activation of its own where it is carried along (`carriedAlong`). */
  readonly design: ApplianceDesign;
  readonly analysis: ApplianceAnalysis;
}

/**
 * The further wires as they stand at the states of the main wire's analysis: where its activation moves a tooth that they
 * hold, they are engaged with the tooth in its place and carried along from there.
 */
export function carriedAlong(
  further: readonly FurtherWire[],
  design: ApplianceDesign,
  analysis: ApplianceAnalysis,
  analyse: (design: ApplianceDesign) => ApplianceAnalysis,
): FurtherWire[] {
  const motions = [...new Set(statesOf(analysis).map(({ motion }) => motion))];
  return further.map((wire) => {
    const moved = motions.length > 0 ? movedWith(wire.design, design, motions) : undefined;
    return moved ? { ...wire, design: moved, analysis: analyse(moved) } : wire;
  });
}

/** Undefined where nothing that it holds is moved. */
function movedWith(
  further: ApplianceDesign,
  { activation, attachments }: ApplianceDesign,
  motions: readonly number[],
): ApplianceDesign | undefined {
  if (activation?.motion.kind !== 'move') return undefined;
  const { name } = attachments[activation.motion.attachment];
  const attachment = further.attachments.findIndex((one) => one.name === name);
  if (attachment < 0) return undefined;
  return {
    ...further,
    activation: { motion: { ...activation.motion, attachment }, stages: motions, countedFrom: 'seats' },
  };
}

/** A further wire at a given amount of the main wire's motion, mm; between states that were solved, read off those around it. */
export function stateBeside({ design, analysis: { stages } }: FurtherWire, motion: number): EngagedState | undefined {
  if (!design.activation) return stages[0]?.state;
  const solved = stages.find(({ activation }) => Math.abs(activation - motion) < SAME_MOTION);
  if (solved) return solved.state;
  const states = stages.flatMap(({ state }) => state ?? []);
  return states.length < stages.length ? undefined : stateBetween(states, motion);
}

/** mm */
const SAME_MOTION = 1e-9;

/**
 * The analysis of a wire with what further wires do added at the attachments of the same name: wrenches of equilibrium, in
 * the attachment's axes at its own place, and the bounds that friction sets on them. All designs share one outer frame.
 * Stresses, loops and everything else stay the wire's own. States for which a wire of `further` that shares an
 * attachment has none are left out.
 */
export function withFurtherWires(
  design: ApplianceDesign,
  analysis: ApplianceAnalysis,
  further: readonly FurtherWire[],
): ApplianceAnalysis {
  const sharing = further.filter((wire) => sharedAttachments(design, wire.design).length > 0);
  const added = (state: EngagedState): EngagedState | Failure => addTo(state, design, sharing);
  const orNothing = (state: EngagedState | undefined) => state && stateOf(added(state));
  const { neutral, yielding } = analysis;
  const stages = analysis.stages.map((stage): StageResult => {
    const sum = stage.state && added(stage.state);
    return sum && 'reason' in sum ? { ...stage, state: undefined, failure: sum } : { ...stage, state: sum };
  });
  const first = orNothing(yielding?.first.neutral);
  const trial = yielding?.trial;
  const [after, pulled] = [orNothing(trial?.neutral), orNothing(trial?.pulled)];
  const { yielding: _, ...rest } = analysis;
  return {
    ...rest,
    neutral: orNothing(neutral),
    stages,
    failure: analysis.failure ?? (stages.some(({ state }) => state) ? undefined : stages[0]?.failure),
    ...(yielding &&
      first && {
        yielding: {
          ...yielding,
          first: { ...yielding.first, neutral: first },
          trial: trial && after && pulled && { ...trial, neutral: after, pulled },
        },
      }),
  };
}

/** The analysis of a wire without any state: what the named further wire does is not known. */
export function withoutFurtherWire(analysis: ApplianceAnalysis, wire: string): ApplianceAnalysis {
  const failure: Failure = { reason: 'further-wire', wire };
  const { yielding: _, ...rest } = analysis;
  return {
    ...rest,
    neutral: undefined,
    stages: analysis.stages.map((stage) => ({ ...stage, state: undefined, failure: stage.failure ?? failure })),
    failure: analysis.failure ?? failure,
  };
}

/** Names of attachments that both wires have. */
export function sharedAttachments(design: ApplianceDesign, other: ApplianceDesign): string[] {
  const names = new Set(other.attachments.map(({ name }) => name));
  return design.attachments.flatMap(({ name }) => (names.has(name) ? [name] : []));
}

/** Every state of an analysis, in the order in which the wire comes to them. */
function statesOf({ neutral, stages, yielding }: ApplianceAnalysis): EngagedState[] {
  const before = [yielding?.first.neutral, yielding?.trial?.pulled, yielding?.trial?.neutral, neutral];
  return [...before, ...stages.map(({ state }) => state)].flatMap((state) => state ?? []);
}

function stateOf(sum: EngagedState | Failure): EngagedState | undefined {
  return 'reason' in sum ? undefined : sum;
}

function addTo(
  state: EngagedState,
  { attachments }: ApplianceDesign,
  further: readonly FurtherWire[],
): EngagedState | Failure {
  const beside: { readonly design: ApplianceDesign; readonly state: EngagedState }[] = [];
  for (const wire of further) {
    const other = stateBeside(wire, state.motion);
    if (!other) return { reason: 'further-wire', wire: wire.name };
    beside.push({ design: wire.design, state: other });
  }
  const shares = attachments.map(({ name, axes }, k): Wrench => {
    let force: Vec3 = zeroVector;
    let moment: Vec3 = zeroVector;
    for (const { design, state: other } of beside) {
      const j = design.attachments.findIndex((one) => one.name === name);
      if (j < 0) continue;
      const own = design.attachments[j].axes;
      const pull = apply(own, other.wrenches[j].force);
      force = add(force, pull);
      // A moment keeps its sense and changes its sign in axes that are a mirror image.
      moment = add(moment, scale(apply(own, other.wrenches[j].moment), handedness(own)));
      moment = add(moment, cross(subtract(other.places[j], state.places[k]), pull));
    }
    return { force: applyTransposed(axes, force), moment: scale(applyTransposed(axes, moment), handedness(axes)) };
  });
  const sum = (wrench: Wrench, k: number): Wrench => ({
    force: add(wrench.force, shares[k].force),
    moment: add(wrench.moment, shares[k].moment),
  });
  const { wrenches, friction } = state;
  return {
    ...state,
    wrenches: wrenches.map(sum),
    ...(friction && { friction: friction.map(({ least, most }, k) => ({ least: sum(least, k), most: sum(most, k) })) }),
  };
}
