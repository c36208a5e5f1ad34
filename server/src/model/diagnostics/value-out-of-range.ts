import { diagnostic } from './diagnostic';

export const valueOutOfRange = diagnostic(
  {
    code: 'value-out-of-range',
    severity: 'error',
    judgement: true,
    title: 'Value outside its range',
    documentation: `A parameter's range says for which values its part or appliance is meant. Change the value, or widen the range where the shape still
makes sense.

\`\`\`spring
param loop_height = 14 mm in 6 mm .. 10 mm    // outside its range of 6 mm to 10 mm
\`\`\``,
  },
  (_span, name: string, value: string, low: string, high: string) => ({
    message: `${name} is ${value}, outside its range of ${low} to ${high}.`,
  }),
);
