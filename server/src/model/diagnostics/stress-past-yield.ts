import { diagnostic } from './diagnostic';

/** What a trial activation does, in formatted amounts. */
export interface TrialOutcome {
  readonly amount: string | undefined;
  readonly before: string | undefined;
  readonly after: string | undefined;
  readonly turn: string;
  /** Largest activation afterwards without further set. */
  readonly room: string | undefined;
}

export const stressPastYield = diagnostic(
  {
    code: 'stress-past-yield',
    severity: 'warning',
    title: 'Stress past yield',
    documentation: `The stress named here is the one an elastic wire would have under the moments that act (nominal). Where it passes the yield strength the wire
takes a permanent set. The forces shown are those of the yielding wire as first engaged, and they change with every further activation, until
the wire has been pulled once as far as it will be: that is what a trial activation is for. Many everyday closing loops yield when strong gables are straightened.

Write the trial activation into the file, and forces, neutral position and stages are those of the wire after it:

\`\`\`spring
trial activation 3 mm
prefer at activation 1.5 mm { activation.amount <= activation.without_set }
\`\`\``,
  },
  (_span, use: string, activation: string, firstYield: string | undefined, trial: TrialOutcome | undefined) => ({
    message: `The largest stress reaches ${use} of the yield strength at ${activation}${firstYield ? `; the wire yields from ${firstYield} on` : ''}. ${trial ? outcomeText(trial) : 'Past yield it takes a set, and forces are lower than computed.'}`,
    hint: trial
      ? `The forces are those of the yielding wire; the stress is nominal.${trial.amount ? ` Write "trial activation ${trial.amount}" to compute the wire after it, or lower the gables.` : ''}`
      : 'The stress is computed as if the wire stayed elastic (nominal). Lower the gables or the activation, or enlarge the loop.',
  }),
);

export function outcomeText({ amount, before, after, turn, room }: TrialOutcome): string {
  if (!amount) return `Taken out again it keeps a set of ${turn} between its attachments.`;
  const left = room ? `; ${room} of activation is then free of further set` : '';
  return `A trial activation to ${amount} would leave a set of ${turn} between its attachments and move neutral from ${before} to ${after}${left}.`;
}
