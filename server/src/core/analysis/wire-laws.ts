/** What the alloys along a wire say of it beyond its elastic range. */
import type { ApplianceDesign } from '../design';
import type { UniaxialLaw } from '../material/uniaxial-law';

/** Whether any of the wire has a law; without one it is elastic throughout. */
export function hasLaw(design: ApplianceDesign): boolean {
  return lawsOf(design).length > 0;
}

/** Whether any of the wire keeps a set when it is let go; superelastic wire comes back as it was. */
export function takesSet(design: ApplianceDesign): boolean {
  return lawsOf(design).some(({ kind }) => kind === 'elastic-plastic');
}

function lawsOf({ elements, alloy }: ApplianceDesign): readonly UniaxialLaw[] {
  const alloys = new Set(elements.flatMap(({ stock, length }) => (length > 0 ? [stock?.alloy ?? alloy] : [])));
  return [...alloys].flatMap(({ law }) => law ?? []);
}
