import { diagnostic } from './diagnostic';

export const pastParallelLegs = diagnostic(
  {
    code: 'past-parallel-legs',
    severity: 'information',
    title: 'Activation past parallel legs',
    documentation: `Parallel legs are a usual chairside sign of the working activation. Stages beyond it are computed all the same.`,
  },
  (_span, name: string, activation: string) => ({
    message: `The legs of ${name} are parallel at ${activation}; the stages go beyond.`,
  }),
);
