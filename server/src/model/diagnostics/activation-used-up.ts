import { diagnostic } from './diagnostic';

export const activationUsedUp = diagnostic(
  {
    code: 'activation-used-up',
    severity: 'warning',
    title: 'Activation used up before the next visit',
    documentation: `At a visit less than a quarter of the pull is left that was there after the visit before: the teeth have nearly come to rest before the appliance
is looked after again. The wire's moments go on turning them meanwhile.

\`\`\`spring
visits every 6 weeks, activate 2 mm   // instead of every 30 weeks
\`\`\``,
  },
  (_span, week: string, left: string, once: string) => ({
    message: `In week ${week} only ${left} are left of a pull of ${once}.`,
    hint: 'Look after it sooner, or use a wire that can be activated further.',
  }),
);
