import { diagnostic } from './diagnostic';

export const quantityExpected = diagnostic(
  {
    code: 'quantity-expected',
    severity: 'error',
    title: 'Quantity expected',
    documentation: `A comparison stands where a number with a unit is expected. Named values, lengths and angles are quantities; conditions belong into
\`require\` and \`prefer\` blocks.

\`\`\`spring
let height = 7 mm < 8 mm      // a named value is a quantity
\`\`\``,
  },
  (_span, what: string) => ({
    message: `${what} is a quantity, but this is a condition that is either true or false.`,
  }),
);
