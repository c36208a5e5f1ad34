import { diagnostic } from './diagnostic';

export const partRecursion = diagnostic(
  {
    code: 'part-recursion',
    severity: 'error',
    title: 'Part made of itself',
    documentation: `A part uses itself, directly or through other parts, and would never end.

\`\`\`spring
part coil() { straight 1 mm coil() }           // coil → coil
\`\`\``,
  },
  (_span, cycle: readonly string[]) => ({
    message: `The part is made of itself: ${cycle.join(' → ')}. Use "repeat" for shapes that come again.`,
  }),
);
