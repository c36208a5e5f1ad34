import { diagnostic } from './diagnostic';

export const feetCount = diagnostic(
  {
    code: 'feet-count',
    severity: 'warning',
    title: 'Not two feet',
    documentation: `\`foot\` marks where a leg of a loop stands, at the inner end of its base bend. The leg gap is the distance between two feet.`,
  },
  (_span, part: string, count: number) => ({
    message: `${part} has ${count} ${count === 1 ? 'foot' : 'feet'}; a leg gap and a leg angle need exactly two.`,
  }),
);
