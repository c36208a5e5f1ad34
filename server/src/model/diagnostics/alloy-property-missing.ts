import { diagnostic } from './diagnostic';

export const alloyPropertyMissing = diagnostic(
  {
    code: 'alloy-property-missing',
    severity: 'error',
    title: 'Alloy property missing',
    documentation: `The mechanics needs an alloy's \`modulus\` (of elasticity), \`poisson\` (ratio), \`yield\` (strength) and \`inner_radius\` (smallest usual inner
bend radius, counted in thicknesses). The maker's data sheet gives the first three.

\`\`\`spring
alloy my_steel {
  modulus = 185 GPa source found "the maker's declaration"
  poisson = 0.3 source memory "a handbook"
  yield = 1500 MPa source found "the maker's declaration"
  inner_radius = 1 source practice
}
\`\`\``,
  },
  (_span, alloy: string, property: string, example: string) => ({
    message: `The alloy ${alloy} has no ${property}. Add a line such as "${example}" with its source.`,
  }),
);
