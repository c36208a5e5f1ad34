import { alternatives, diagnostic } from './diagnostic';

export const bendAlongWire = diagnostic(
  {
    code: 'bend-along-wire',
    severity: 'error',
    title: 'Bend toward the wire’s own direction',
    documentation: `A bend turns the wire toward a direction; where the wire already runs along it (within 5°), or straight against it, there is no way to say
in which plane it should turn. To turn the wire right back, bend it toward a direction beside it by 180 deg.

\`\`\`spring
path running mesial {
  straight 5 mm
  bend 90 deg toward mesial   // the wire runs mesial here: bend toward gingival, occlusal, buccal or lingual
}
\`\`\``,
  },
  (_span, direction: string, along: boolean, choices: readonly string[]) => ({
    message: `The wire runs ${along ? '' : 'against '}${direction} here, so that it cannot bend toward ${direction}.`,
    hint: `Bend toward ${alternatives(choices)}.`,
  }),
);
