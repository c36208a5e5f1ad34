/** `--severity id=level`: read strictly, so that a misspelt id silences nothing unnoticed. */
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { nearest } from '#model/names/nearest';
import { adjustable, SEVERITIES, type Severities, type SeveritySetting } from '#model/severities';

export function severitiesFrom(values: readonly string[]): { readonly of: Severities } | { readonly mistake: string } {
  const severities: Record<string, SeveritySetting> = {};
  for (const value of values) {
    const [id, level, ...more] = value.split('=');
    if (level === undefined || more.length > 0) return { mistake: `takes "id=level", not "${value}".` };
    const severity = SEVERITIES.find((candidate) => candidate === level);
    if (!severity) return { mistake: `knows the levels ${SEVERITIES.join(', ')}, not "${level}".` };
    if (!DIAGNOSTICS.has(id) && id !== 'syntax') {
      const similar = nearest(id, [...DIAGNOSTICS.keys()]);
      return { mistake: `knows no finding "${id}".${similar ? ` Did you mean "${similar}"?` : ''}` };
    }
    if (!adjustable(id)) {
      return { mistake: `cannot change "${id}": it is an error that stops the computation.` };
    }
    severities[id] = severity;
  }
  return { of: severities };
}
