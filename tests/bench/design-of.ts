/** Benchmarked appliances come from text; the text is read before the clock runs. */
import type { ApplianceDesign } from '#core/design';
import { parse } from '#grammar/parser';
import { resolveFile } from '#model/resolve';

/** Elastic throughout, unless its alloy's yielding is to count. */
export function designOf(text: string, yielding: 'elastic' | 'followed' = 'elastic'): ApplianceDesign {
  const { tree, problems } = parse(text);
  const file = resolveFile('bench:/appliance.spring', tree, text, () => ({ kind: 'missing' }));
  const design = file.appliances[0]?.design;
  if (!design) throw new Error([...problems, ...file.problems].map((problem) => problem.message).join('\n'));
  return yielding === 'followed' ? design : { ...design, alloy: { ...design.alloy, law: undefined } };
}
