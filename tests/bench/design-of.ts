/** Benchmarked appliances come from text; the text is read before the clock runs. */
import type { ApplianceDesign } from '#core/design';
import { parse } from '#grammar/parser';
import { resolveFile } from '#model/resolve';

export function designOf(text: string): ApplianceDesign {
  const { tree, problems } = parse(text);
  const file = resolveFile('bench:/appliance.spring', tree, text, () => ({ kind: 'missing' }));
  const design = file.appliances[0]?.design;
  if (!design) throw new Error([...problems, ...file.problems].map((problem) => problem.message).join('\n'));
  return design;
}
