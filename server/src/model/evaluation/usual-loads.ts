/** Loads on the teeth at the working activation that are beyond what is usual. */
import type { ApplianceAnalysis } from '#core/analysis/analysis';
import { formatApart, type UnitPreferences } from '#core/units/format';
import { forceBeyondUsual } from '../diagnostics/force-beyond-usual';
import { momentBeyondUsual } from '../diagnostics/moment-beyond-usual';
import type { Problem } from '../problem';
import type { ResolvedAppliance } from '../resolved';
import { USUAL_LOADS } from '../usual-loads';

export function beyondUsual(
  { design, attachments }: ResolvedAppliance,
  { neutral, stages }: ApplianceAnalysis,
  workingActivation: number,
  preferences: UnitPreferences,
): Problem[] {
  const state = stages.find(({ activation }) => Math.abs(activation - workingActivation) < 1e-9)?.state;
  // The forces of a wire that would not stay as computed mean nothing.
  if (!design || !state?.stable || neutral?.stable === false) return [];
  return design.attachments.flatMap(({ name }, index) => {
    const place = attachments.find((definition) => definition.name === name);
    const wrench = state.wrenches[index];
    if (!place || !wrench) return [];
    return USUAL_LOADS.flatMap(({ code, movement, upper, amount, activated, state: known, reference }) => {
      if (activated && !design.activation) return [];
      const actual = amount(wrench);
      if (actual <= upper.value) return [];
      const [shown, limit] = formatApart({ value: actual, dimension: upper.dimension }, upper, preferences);
      const source = `${known === 'practice' ? 'common practice' : 'recalled from'}: ${reference}`;
      const diagnostic = code === 'force' ? forceBeyondUsual : momentBeyondUsual;
      return [diagnostic.at(place.span, name, shown, limit, movement, source)];
    });
  });
}
