import { diagnostic } from './diagnostic';

export const unusedParameter = diagnostic(
  {
    code: 'unused-parameter',
    severity: 'warning',
    title: 'Parameter not used',
    documentation: `Nothing in the part or appliance refers to this parameter, so that a value given to it goes nowhere. Use it, or remove it.

\`\`\`spring
part leg(height = 7 mm, width = 2 mm) { straight height }   // "width" is not used
\`\`\``,
  },
  (_span, name: string) => ({
    message: `The parameter "${name}" is not used, so that changing it changes nothing.`,
  }),
);
