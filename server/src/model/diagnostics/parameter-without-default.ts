import { diagnostic } from './diagnostic';

export const parameterWithoutDefault = diagnostic(
  {
    code: 'parameter-without-default',
    severity: 'error',
    title: 'Parameter without a value',
    documentation: `A parameter's usual value is used where a call does not give another, and tells whether the parameter is a length, an angle or a number.

\`\`\`spring
part loop(height) { straight height }          // write: height = 7 mm
\`\`\``,
  },
  (_span, name: string, part: string) => ({
    message: `The parameter "${name}" of ${part} has no value. Write a usual value, such as "${name} = 7 mm": it also says what kind of quantity it is.`,
  }),
);
