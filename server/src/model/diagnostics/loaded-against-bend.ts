import { diagnostic } from './diagnostic';
import { outcomeText, type TrialOutcome } from './stress-past-yield';

export const loadedAgainstBend = diagnostic(
  {
    code: 'loaded-against-bend',
    severity: 'information',
    title: 'Bend loaded against the sense in which it was bent',
    documentation: `Bending leaves stress in a bend: opened against the sense in which it was last bent it yields at about half of the moment that a wire without
a bend bears, and bent on in that sense only at its plastic moment (Bauschinger effect, handbook 3.4). It takes a small set the first time it
is activated, and none beyond that. Common practice, no source: activate in the direction of the last bend.

Ways to mend it: pull the appliance once as far as it will be, and write that down (\`trial activation 3 mm\`); bend further and back, so
that the last sense is the other one (\`back from\`); or relieve the wire of stress by heat where its maker says how:

\`\`\`spring
wire 0.016 in x 0.022 in of steel stress relieved
bend 90 deg toward gingival back from 105 deg
\`\`\``,
  },
  (_span, use: string, activation: string, firstYield: string | undefined, trial: TrialOutcome | undefined) => ({
    message: `A bend is loaded against the sense in which it was last bent, with ${use} times what it bears that way without a set, at ${activation}${firstYield ? `; it yields from ${firstYield} on` : ''}.${trial ? ` ${outcomeText(trial)}` : ''}`,
    hint: 'Common practice: activate in the direction of the last bend. A trial activation takes the set beforehand; "back from" turns the last sense of a bend, "stress relieved" frees the wire of it.',
  }),
);
