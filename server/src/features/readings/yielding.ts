/** Readings of a wire that yields: at the trial activation's line, or at the activation's where there is none. */
import { ANGLE, LENGTH, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { SnapshotAppliance } from '#workspace/snapshot';
import { type Reading, workingState } from './reading';

export function yieldingReadings(evaluated: SnapshotAppliance): Reading[] {
  const { analysis, appliance, stale } = evaluated;
  const yielding = analysis?.yielding;
  const { members } = appliance.node;
  const trialLine = members.find(({ kind }) => kind === 'trial');
  const node = trialLine ?? members.find(({ kind }) => kind === 'activation');
  if (!yielding || !node) return [];
  const { first, trial, stages } = yielding;
  const readings: Reading[] = [];
  const say = (text: string | undefined, detail: string) =>
    readings.push({ span: node.span, line: 'last', stale, kind: 'neutral', text, detail });
  // The same before and after what a trial would change is known, so that the line stands still.
  if (stages === 'first') say('yields', 'Within the stages the wire leaves its elastic range.');
  if (trial) {
    const done = stages === 'after-trial';
    const room = trial.largestWithoutSet;
    const to = show(trial.neutral.motion, LENGTH);
    say(
      done ? `neutral ${show(first.neutral.motion, LENGTH)} → ${to}` : undefined,
      `${done ? 'The' : 'A'} trial activation to ${show(trial.amount, LENGTH)} ${done ? 'moved' : 'would move'} neutral from ${show(first.neutral.motion, LENGTH)} to ${to} of the motion and ${done ? 'left' : 'leave'} a set of ${show(trial.setTurn, ANGLE)} between the attachments.`,
    );
    if (room !== undefined) {
      say(
        done ? `no further set to ${show(room, LENGTH)}` : undefined,
        `Activated up to ${show(room, LENGTH)} from the neutral position after it, the wire takes no further set.`,
      );
    }
  }
  const state = workingState(evaluated);
  if (state?.fibreStress !== undefined) {
    say(
      undefined,
      `Largest stress that a fibre bears: ${show(state.fibreStress, STRESS)}; in an elastic wire the same moments would cause ${show(state.stress, STRESS)}. Torsion is taken as elastic.`,
    );
  }
  return readings;
}

function show(value: number, dimension: Dimension): string {
  return formatQuantity({ value, dimension });
}
