import { diagnostic } from './diagnostic';

export const argumentCount = diagnostic(
  {
    code: 'argument-count',
    severity: 'error',
    title: 'Wrong number of values',
    documentation: `Functions take: \`min\` and \`max\` one or more values of one kind; \`arc\` a radius and an angle; all others one value.`,
  },
  (_span, name: string, expected: string, actual: number) => ({
    message: `${name} takes ${expected}, not ${actual}.`,
  }),
);
