import { diagnostic } from './diagnostic';

export const notConverged = diagnostic(
  {
    code: 'not-converged',
    severity: 'error',
    title: 'No equilibrium found',
    documentation: `The computation did not settle to a balanced state. No figures are shown for it, rather than doubtful ones.

\`\`\`spring
activation pull through molar 0 mm .. 30 mm step 10 mm   // far more than the loop gives
\`\`\``,
  },
  (_span, where: string, iterations: number, leftOver: string | undefined) => ({
    message: `No equilibrium was found${where} (${iterations} iterations${leftOver === undefined ? '' : `, ${leftOver}`}).`,
    hint: 'Try less activation or preactivation. If the appliance is ordinary, this is a fault of ours worth reporting.',
  }),
);
