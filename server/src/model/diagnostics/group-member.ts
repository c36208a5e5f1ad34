import { diagnostic } from './diagnostic';

export const groupMember = diagnostic(
  {
    code: 'group-member',
    severity: 'error',
    title: 'A group of teeth without attachments of its own',
    documentation: `A group is teeth that move as one. The wire reaches it through its attachments: those named after \`of\`, or those that stand \`on\` its teeth. An
attachment belongs to one group at most.

\`\`\`spring
group anchor of molar, on teeth 15 .. 17
group front of canine, on teeth 11 .. 13
\`\`\``,
  },
  (_span, name: string, what: 'none' | 'taken', other: string | undefined) =>
    what === 'none'
      ? {
          message: `No attachment of this appliance stands on the teeth of ${name}, so that the wire does nothing to them.`,
          hint: `Name its attachments, such as "of ${other ?? 'molar'}", or put an attachment "on tooth …" of the group.`,
        }
      : {
          message: `${name} belongs to ${other} already.`,
          hint: 'Leave it out of one of the two groups, or make them one.',
        },
);
