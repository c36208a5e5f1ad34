import { diagnostic } from './diagnostic';

export const unstableState = diagnostic(
  {
    code: 'unstable-state',
    severity: 'error',
    judgement: true,
    title: 'Wire would not stay as computed',
    documentation: `The wire is in balance, but as a strip is that stands on its end: the least disturbance makes it buckle or snap to another shape, and its
forces are then others. There may be several shapes in which it balances. At neutral the appliance counts as let go along its
activation.

\`\`\`spring
hook canine moved 0.3 mm distal tied   // a thin straight wire, pressed together between its attachments
\`\`\``,
  },
  (_span, where: string) => ({
    message: `The wire is in balance${where}, but would not stay so: the least disturbance makes it buckle or snap to another shape, with other forces.`,
    hint: 'Do not press the wire together, make it stiffer where it bows out, or bend it so that it bows one way from the start.',
  }),
);
