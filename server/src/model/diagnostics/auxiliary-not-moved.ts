import { diagnostic } from './diagnostic';

export const auxiliaryNotMoved = diagnostic(
  {
    code: 'auxiliary-not-moved',
    severity: 'warning',
    title: 'Activation moves a tooth that an auxiliary holds',
    documentation: `The activation moves an attachment of a tooth that an auxiliary wire holds too. The auxiliary is computed with the tooth where it stands before the
activation, so that its share of the forces is that of the beginning at every stage.

\`\`\`spring
activation pull through molar 0 mm .. 1 mm step 0.5 mm // moves the wire and no tooth
\`\`\``,
  },
  (_span, attachment: string, auxiliary: string) => ({
    message: `The activation moves ${attachment}, which ${auxiliary} holds too: its forces stay those before the activation.`,
    hint: 'Read the stages as the change of the main wire alone, or write the movement into both wires as "moved".',
  }),
);
