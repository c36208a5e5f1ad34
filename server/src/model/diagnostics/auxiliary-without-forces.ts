import { diagnostic } from './diagnostic';

export const auxiliaryWithoutForces = diagnostic(
  {
    code: 'auxiliary-without-forces',
    severity: 'error',
    title: 'Auxiliary wire without a force system',
    documentation: `A tooth that several wires hold feels all of them. While one of them has no force system, because something in it is wrong or it cannot be
engaged, nothing is said of what the teeth of the appliance feel: the share of the other wires alone could be taken for the whole.

\`\`\`spring
auxiliary tip_back of retraction at molar 3 mm gingival {
  // mend what is wrong here, or leave this wire out
}
\`\`\``,
  },
  (_span, main: string, auxiliary: string, where: string) => ({
    message: `"${main}" has no force system${where}, as its auxiliary wire ${auxiliary} has none.`,
    hint: `Mend ${auxiliary}, or leave it out to see the other wires alone.`,
  }),
);
