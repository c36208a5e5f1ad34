/** What several wires do to the teeth that they share. */
import type { ApplianceDesign } from '../design';
import { handedness } from '../math/rotation';
import { add, apply, applyTransposed, cross, scale, subtract, type Vec3, zeroVector } from '../math/vector';
import type { ApplianceAnalysis, EngagedState, Wrench } from './analysis';

export interface FurtherWire {
  readonly design: ApplianceDesign;
  readonly analysis: ApplianceAnalysis;
}

/**
 * The analysis of a wire with what further wires do, as engaged, added at the attachments of the same name: wrenches of
 * equilibrium, in the attachment's axes at its own place, and the bounds that friction sets on them. All designs share
 * one outer frame. Stresses, loops and everything else stay the wire's own.
 */
export function withFurtherWires(
  design: ApplianceDesign,
  analysis: ApplianceAnalysis,
  further: readonly FurtherWire[],
): ApplianceAnalysis {
  const added = (state: EngagedState): EngagedState => addTo(state, design, further);
  const { neutral, stages, yielding } = analysis;
  return {
    ...analysis,
    neutral: neutral && added(neutral),
    stages: stages.map((stage) => (stage.state ? { ...stage, state: added(stage.state) } : stage)),
    ...(yielding && {
      yielding: {
        ...yielding,
        first: { ...yielding.first, neutral: added(yielding.first.neutral) },
        trial: yielding.trial && {
          ...yielding.trial,
          neutral: added(yielding.trial.neutral),
          pulled: added(yielding.trial.pulled),
        },
      },
    }),
  };
}

/** Names of attachments that both wires have. */
export function sharedAttachments(design: ApplianceDesign, other: ApplianceDesign): string[] {
  const names = new Set(other.attachments.map(({ name }) => name));
  return design.attachments.flatMap(({ name }) => (names.has(name) ? [name] : []));
}

function addTo(state: EngagedState, { attachments }: ApplianceDesign, further: readonly FurtherWire[]): EngagedState {
  const shares = attachments.map(({ name, axes }, k): Wrench => {
    let force: Vec3 = zeroVector;
    let moment: Vec3 = zeroVector;
    for (const { design, analysis } of further) {
      const other = analysis.stages[0]?.state;
      const j = design.attachments.findIndex((one) => one.name === name);
      if (!other || j < 0) continue;
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
