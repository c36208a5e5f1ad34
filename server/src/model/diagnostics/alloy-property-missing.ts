import { diagnostic } from './diagnostic';

export const alloyPropertyMissing = diagnostic(
  {
    code: 'alloy-property-missing',
    severity: 'error',
    title: 'Alloy property missing',
    documentation: `The mechanics needs an alloy's \`modulus\` (of elasticity), \`poisson\` (ratio), \`yield\` (strength) and \`inner_radius\` (smallest usual inner
bend radius, counted in thicknesses). The maker's data sheet gives the first three.`,
  },
  (_span, alloy: string, property: string, example: string) => ({
    message: `The alloy ${alloy} has no ${property}. Add a line such as "${example}" with its source.`,
  }),
);
