import { diagnostic } from './diagnostic';

export const forceBeyondUsual = diagnostic(
  {
    code: 'force-beyond-usual',
    severity: 'warning',
    title: 'Force beyond what is usual',
    documentation: `At the working activation the wire pulls or intrudes harder than is usual for that movement. Higher force and longer treatment go with more root
resorption. What is usual is no proof of what is right: a systematic review found no evidence for an optimum. A licensed practitioner decides.

| movement | usual for one tooth | for a group |
| --- | --- | --- |
| tipping | 30 to 75 gf | |
| bodily | 70 to 150 gf | closing a space 150 to 350 gf a side (common practice) |
| extrusion, rotation | 35 to 75 gf | |
| intrusion | 10 to 25 gf | six upper front teeth 200 gf, four 100 gf, two 50 gf (recalled) |

An attachment may stand for one tooth or for a segment. Where the file does not say so with a \`group\`, the finding comes where even a whole segment gets more than
is usual; of a group it comes where each of its teeth does.
State what yours must get as a requirement:

\`\`\`spring
require at activation 1.5 mm { canine.force.distal in 100 gf .. 150 gf }
\`\`\``,
  },
  (_span, name: string, actual: string, limit: string, movement: string, source: string) => ({
    message: `${name} gets ${actual}, more than the ${limit} that are usual at most for ${movement} (${source}).`,
    hint: 'Activate it less, take a thinner or softer wire, or bend more wire into the loop.',
  }),
);
