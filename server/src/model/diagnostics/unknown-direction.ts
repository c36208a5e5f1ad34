import { directionWords } from '#grammar/words';
import { alternatives, diagnostic, replacement } from './diagnostic';

export const unknownDirection = diagnostic(
  {
    code: 'unknown-direction',
    severity: 'error',
    title: 'Unknown direction',
    documentation: `Directions are anatomical, those of one quadrant with the arch straightened: mesial and distal along the arch, gingival and occlusal,
buccal and lingual. A path runs mesial or distal. In a whole arch (\`appliance … in upper arch\`) they are anterior and posterior, the patient's left and
right, gingival and occlusal; inside a part they are those of the wire there. Up and down depend on who looks and are not used.

\`\`\`spring
bend 90 deg toward up         // write: toward gingival
\`\`\``,
  },
  (span, word: string, nearest: string | undefined, possible: readonly string[] = directionWords) => ({
    message: `"${word}" is not a direction that can stand here. Write ${alternatives(possible)}.`,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
