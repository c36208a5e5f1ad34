import { diagnostic } from './diagnostic';

export const preferenceMissed = diagnostic(
  {
    code: 'preference-missed',
    severity: 'warning',
    title: 'Preference missed',
    documentation: `The computed value lies outside what the file would rather have. A \`prefer\` block warns where a \`require\` block fails.`,
  },
  (
    _span,
    text: string,
    actual: string | undefined,
    expected: string | undefined,
    where: string,
    because: string | undefined,
  ) => ({
    message: `Preference missed${where}: ${actual === undefined ? `"${text}" does not hold` : `${text.split(/ (?:in|<=|>=|<|>|==|!=) /)[0]} is ${actual}, not ${expected}`}.`,
    hint: because,
  }),
);
