/** One case computed by the product and by finite elements at two mesh levels, and how far they differ. */
import { analyseAppliance } from '#core/analysis/analyse';
import type { Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { apply, dot } from '../../oracle/rotation';
import { designOf } from '../../validation/run-spring';
import type { FiniteElementCase } from './cases/case';
import { type Hardening, writeDeck } from './deck';
import { runCalculix } from './run';
import type { MeshSize } from './swept-mesh';

/** Largest difference over all stages, attachments and axes, divided by the largest value of its kind. */
export interface Differences {
  readonly force: number;
  readonly moment: number;
}

export interface Level extends Differences {
  readonly bricks: number;
  readonly milliseconds: number;
  /** Per motion and attachment. */
  readonly wrenches: Wrenches;
  /** As the product's, from the forces found along the motion. */
  readonly set: number | undefined;
}

export type Wrenches = readonly (readonly {
  readonly force: readonly number[];
  readonly moment: readonly number[];
}[])[];

export interface Own {
  readonly design: ApplianceDesign;
  readonly slides: boolean;
  /** Amounts of the motion that are compared, in the order in which they are reached. */
  readonly motions: readonly number[];
  readonly wrenches: readonly (readonly Wrench[])[];
  /** Largest fibre stress, MPa: nominal, as if elastic, past yield. */
  readonly stress: number;
  /** By how much a trial activation has moved the neutral position, mm. */
  readonly set: number | undefined;
  /** The default mesh against the strict one; past yield there is one mesh only. */
  readonly mesh: Differences | undefined;
}

/** The product's answer from the text, on its strict mesh. */
export function ownAnswer({ text, plastic, slides = false }: FiniteElementCase): Own {
  const design = unformed(designOf(text));
  const { stages, yielding, failure } = analyseAppliance(design, { mesh: 'strict' });
  if (plastic !== (yielding !== undefined || undefined)) throw new Error('yields where it should not, or not');
  const after = stages.map((stage) => {
    if (!stage.state) throw new Error(JSON.stringify(stage.failure ?? failure));
    return stage.state;
  });
  // The finite-element wire is pulled and let back in its slots; as long as no section yields backwards that is the same.
  const tried = yielding?.stages === 'after-trial' ? yielding : undefined;
  const states = tried?.trial ? [tried.first.neutral, tried.trial.pulled, ...after] : after;
  const wrenches = states.map((state) => state.wrenches);
  const rough = () => analyseAppliance(design).stages.map(({ state }) => state!.wrenches);
  return {
    design,
    slides,
    motions: states.map(({ motion }) => motion),
    wrenches,
    stress: Math.max(...states.map(({ stress }) => stress)),
    set: tried?.trial && tried.trial.neutral.motion - tried.first.neutral.motion,
    mesh: plastic ? undefined : differences(rough(), wrenches),
  };
}

/** The solid begins free of stress; so does the wire here, without what bending it has left in its bends. */
function unformed(design: ApplianceDesign): ApplianceDesign {
  return { ...design, elements: design.elements.map(({ forming: _, ...element }) => element) };
}

/** The same wire in finite elements. */
export function finiteElementAnswer(own: Own, size: MeshSize): Level {
  const { design, slides, motions, wrenches } = own;
  const deck = writeDeck(design, motions, size, { hardening: hardeningOf(design), slides });
  const run = runCalculix(design, deck);
  if (run.outcome !== 'done') throw new Error(run.outcome === 'failed' ? run.message : run.outcome);
  const found = run.stages.map((stage) => stage.wrenches);
  return {
    bricks: deck.bricks,
    milliseconds: run.milliseconds,
    wrenches: found,
    set: own.set === undefined ? undefined : setOf(own, found),
    ...differences(wrenches, found),
  };
}

/**
 * Where refinement leads (Richardson): the error taken as of second order in the bricks' length, which for these bricks
 * overstates what is left rather than understates it.
 */
export function extrapolated(coarse: Level, fine: Level, meshes: FiniteElementCase['meshes']): Wrenches {
  const ratio = (meshes[0].turn / meshes[1].turn) ** 2;
  const at = (a: readonly number[], b: readonly number[]) => b.map((value, k) => value + (value - a[k]) / (ratio - 1));
  return fine.wrenches.map((stage, k) =>
    stage.map(({ force, moment }, i) => ({
      force: at(coarse.wrenches[k][i].force, force),
      moment: at(coarse.wrenches[k][i].moment, moment),
    })),
  );
}

export function differences(a: Wrenches, b: Wrenches): Differences {
  const of = (kind: 'force' | 'moment') => {
    let [largest, miss] = [0, 0];
    for (const [k, stage] of a.entries()) {
      for (const [i, wrench] of stage.entries()) {
        for (const [axis, value] of wrench[kind].entries()) {
          largest = Math.max(largest, Math.abs(value));
          miss = Math.max(miss, Math.abs(value - b[k][i][kind][axis]));
        }
      }
    }
    return miss / largest;
  };
  return { force: of('force'), moment: of('moment') };
}

/**
 * Between the places without a force along the motion before and after the trial activation. Both lie close to the
 * product's, from where a straight line leads on: motions are first neutral, trial, neutral afterwards, next stage.
 */
function setOf({ design, motions }: Own, found: Wrenches): number {
  const motion = design.activation?.motion;
  if (motion?.kind !== 'move') throw new Error('a set is compared where an attachment moves');
  const { attachment, direction } = motion;
  const forces = found.map((stage) =>
    dot(apply(design.attachments[attachment].axes, stage[attachment].force), direction),
  );
  const neutral = (from: number, to: number) =>
    motions[from] - (forces[from] * (motions[to] - motions[from])) / (forces[to] - forces[from]);
  return neutral(2, 3) - neutral(0, 1);
}

/** Median time of the product's analysis in a warm process, default mesh, ms. */
export function ownTime(design: ApplianceDesign): number {
  const times: number[] = [];
  const begun = performance.now();
  for (let k = 0; k < 300 && (k < 30 || performance.now() - begun < 2000); k++) {
    const before = performance.now();
    analyseAppliance(design);
    times.push(performance.now() - before);
  }
  const late = times.slice(Math.floor(times.length / 3)).sort((a, b) => a - b);
  return late[Math.floor(late.length / 2)];
}

function hardeningOf({ alloy }: ApplianceDesign): Hardening | undefined {
  const { law } = alloy;
  if (law?.kind !== 'elastic-plastic' || law.yield > 5000) return undefined;
  return { yield: law.yield, tangentModulus: law.hardening, kind: 'kinematic' };
}
