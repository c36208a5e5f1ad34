import { diagnostic } from './diagnostic';

export const conditionExpected = diagnostic(
  {
    code: 'condition-expected',
    severity: 'error',
    title: 'Condition expected',
    documentation: `Each line of a \`require\` or \`prefer\` block says something that is either true or false: a comparison, or a value \`in\` a range.

\`\`\`spring
require at activation 1 mm {
  canine.force.distal                     // write: canine.force.distal in 100 gf .. 150 gf
}
\`\`\``,
  },
  (_span, text: string, dimension: string, unit: string | undefined) => {
    const bound = (number: number) => (unit ? `${number} ${unit}` : `${number}`);
    return {
      message: `"${text}" is ${dimension}; a requirement is a condition.`,
      hint: `Compare it, for example "${text} <= ${bound(1)}" or "${text} in ${bound(1)} .. ${bound(2)}".`,
    };
  },
);
