import { diagnostic } from './diagnostic';

export const lengthNotPositive = diagnostic(
  {
    code: 'length-not-positive',
    severity: 'error',
    title: 'Length not positive',
    documentation: `Lengths of wire, radii and sizes are positive. A straight that comes out negative usually means that the bends on both sides of it need
more wire than the sizes leave: make the part larger or the radii smaller.

\`\`\`spring
straight height - 2 * radius  // negative where the radius is more than half the height
\`\`\``,
  },
  (_span, what: string, value: string, zeroAllowed: boolean) => ({
    message: `${what} is ${value}; it ${zeroAllowed ? 'cannot be negative' : 'must be more than 0'}.`,
  }),
);
