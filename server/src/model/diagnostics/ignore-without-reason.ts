import { diagnostic } from './diagnostic';

export const ignoreWithoutReason = diagnostic(
  {
    code: 'ignore-without-reason',
    severity: 'error',
    judgement: true,
    title: 'Silenced without a reason',
    documentation: `A comment \`// ignore-next-line <id>: reason\` silences one finding of that id on the next line. The reason is required, so that whoever reads
the file later knows why the finding was set aside. Without one nothing is silenced.

\`\`\`spring
// ignore-next-line bend-radius-too-small: bent over a 0.5 mm beak in soft temper, then hardened
bend 90 deg toward gingival radius 0.5 mm
\`\`\``,
  },
  (_span, id: string) => ({
    message: `This comment silences nothing, because it gives no reason. Write "// ignore-next-line ${id}: why it may stand".`,
  }),
);
