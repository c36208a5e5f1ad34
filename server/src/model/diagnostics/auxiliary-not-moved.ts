import { diagnostic } from './diagnostic';

export const auxiliaryNotMoved = diagnostic(
  {
    code: 'auxiliary-not-moved',
    severity: 'warning',
    title: 'Auxiliary that does not follow its tooth',
    documentation: `The activation moves a tooth that an auxiliary wire only supports on its way, such as with a hook between two others or a slot with play.
The auxiliary is computed with that tooth where it stands before the activation, so that its share of the forces is that of the beginning at
every stage. An auxiliary that a tooth holds at a tube, a bracket or its last hook follows it.

\`\`\`spring
activation pull through molar 0 mm .. 1 mm step 0.5 mm // moves the wire and no tooth
\`\`\``,
  },
  (_span, attachment: string, auxiliary: string) => ({
    message: `The activation moves ${attachment}, which only supports ${auxiliary} on its way: the forces of ${auxiliary} stay those before the activation.`,
    hint: 'Read the stages as the change of the main wire alone, or write the movement into both wires as "moved".',
  }),
);
