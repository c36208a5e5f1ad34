import { diagnostic } from './diagnostic';

export const sectionInPart = diagnostic(
  {
    code: 'section-in-part',
    severity: 'error',
    title: 'Change of wire inside a part',
    documentation: `A part is a shape; what wire it is bent in is said by the appliance that uses it. So \`section\`, from which on the wire is another, stands
in the path of an appliance, before or after the part is put there.

\`\`\`spring
part arm() {
  section round 0.016 in                 // write it in the path, before arm()
  straight 10 mm
}
\`\`\``,
  },
  () => ({
    message: 'A part does not change the wire that it is bent in.',
    hint: 'Write the "section" step in the path of the appliance, before or after the part.',
  }),
);
