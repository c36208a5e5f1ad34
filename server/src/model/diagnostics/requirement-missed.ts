import { diagnostic } from './diagnostic';

export const requirementMissed = diagnostic(
  {
    code: 'requirement-missed',
    severity: 'error',
    title: 'Requirement missed',
    documentation: `The computed value lies outside what the file requires. The figures are engineering estimates: a design that only just meets its bounds, or
only just misses them, needs a look at the alloy's range and at the accuracy of hand bending (about ±0.25 mm and ±2°, common practice).`,
  },
  (
    _span,
    text: string,
    actual: string | undefined,
    expected: string | undefined,
    where: string,
    because: string | undefined,
  ) => ({
    message: `Requirement missed${where}: ${actual === undefined ? `"${text}" does not hold` : `${text.split(/ (?:in|<=|>=|<|>|==|!=) /)[0]} is ${actual}, not ${expected}`}.`,
    hint: because,
  }),
);
