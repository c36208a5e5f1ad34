import { diagnostic } from './diagnostic';

export const unusedParameter = diagnostic(
  {
    code: 'unused-parameter',
    severity: 'warning',
    title: 'Parameter not used',
    documentation: `Nothing in the part or appliance refers to this parameter. Use it, or remove it.`,
  },
  (_span, name: string) => ({
    message: `The parameter "${name}" is not used, so that changing it changes nothing.`,
  }),
);
