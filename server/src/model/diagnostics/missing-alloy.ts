import { diagnostic } from './diagnostic';

export const missingAlloy = diagnostic(
  {
    code: 'missing-alloy',
    severity: 'error',
    title: 'Wire without an alloy',
    documentation: `The same shape in steel is about two and a half times as stiff as in beta-titanium, so that there is no usual alloy to assume.`,
  },
  () => ({
    message:
      'The wire does not say of what alloy it is. Add "of" and an alloy, such as "of steel" or "of beta_titanium", and use "alloys" at the top of the file.',
  }),
);
