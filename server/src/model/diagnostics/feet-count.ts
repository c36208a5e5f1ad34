import { diagnostic } from './diagnostic';

export const feetCount = diagnostic(
  {
    code: 'feet-count',
    severity: 'warning',
    title: 'Not two feet',
    documentation: `\`foot\` marks where a leg of a loop stands, at the inner end of its base bend. The leg gap is the distance between two feet.

\`\`\`spring
part loop() {
  bend 90 deg toward gingival
  foot
  straight 6 mm
  bend 180 deg toward mesial radius 1 mm
  straight 6 mm
  foot                                   // the second leg stands here
  bend 90 deg toward mesial
}
\`\`\``,
  },
  (_span, part: string, count: number) => ({
    message: `${part} has ${count} ${count === 1 ? 'foot' : 'feet'}; a leg gap and a leg angle need exactly two.`,
  }),
);
