import { diagnostic } from './diagnostic';

export const pastParallelLegs = diagnostic(
  {
    code: 'past-parallel-legs',
    severity: 'information',
    title: 'Activation past parallel legs',
    documentation: `Parallel legs are a usual chairside sign of the working activation. Going beyond it is computed all the same.

\`\`\`spring
require at activation 2.5 mm {           // the legs are parallel at 2 mm
  wire.stress <= wire.yield
}
\`\`\``,
  },
  (_span, name: string, parallel: string, activation: string) => ({
    message: `The legs of ${name} are parallel at ${parallel}; the working activation of ${activation} goes beyond.`,
  }),
);
