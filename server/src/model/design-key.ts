import type { AnalysisOptions } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';

/**
 * The numbers that decide an analysis, as one text: designs with the same key have the same analysis.
 * Names are left out, so that renaming a tooth or editing a comment solves nothing.
 */
export function designKey(design: ApplianceDesign, options: Partial<AnalysisOptions> = {}): string {
  const { elements, section, alloy, start, attachments, activation, trialActivation, loops, loads } = design;
  const shape = elements.map(({ length, shape, preactivation, stock, forming }) => [
    length,
    ...shape,
    ...preactivation,
    stock,
    forming?.furthest,
  ]);
  const withoutNames = (key: string, value: unknown) => (key === 'name' ? undefined : value);
  return JSON.stringify(
    [shape, section, alloy, start, attachments, activation, trialActivation, loops, loads, options],
    withoutNames,
  );
}
