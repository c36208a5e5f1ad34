/** How figures are known that a file does not set itself. */
import { ANGLE, LENGTH, SPEED } from '#core/units/dimension';
import type { Quantity } from '#core/units/quantity';
import { UNITS } from '#core/units/unit';
import type { Source } from '#grammar/tree';

export interface Provenance {
  /** As after `source` in the language; 'unstated' where nobody says. */
  readonly state: 'found' | 'memory' | 'practice' | 'computed' | 'unstated';
  readonly reference: string | undefined;
}

/** A figure that results rest on. */
export interface Assumption extends Provenance {
  readonly name: string;
  /** Of a tolerance: how far it goes either way. */
  readonly kind: 'value' | 'tolerance';
  readonly value: Quantity;
  readonly range: { readonly low: Quantity; readonly high: Quantity } | undefined;
}

export function provenanceOf(source: Source | undefined): Provenance {
  const state = source?.state?.text;
  const known = state === 'found' || state === 'memory' || state === 'practice' || state === 'computed';
  return { state: known ? state : 'unstated', reference: source?.reference?.value };
}

const tolerance = (name: string, value: Quantity, reference: string): Assumption => ({
  ...{ name, kind: 'tolerance', value, range: undefined, state: 'practice', reference },
});

const perMonth = (length: number): Quantity => ({
  value: length / (UNITS.get('month')?.factor ?? 1),
  dimension: SPEED,
});

/** The defaults of the tool, each with its source. */
export const DEFAULTS = {
  straight: tolerance(
    'length of a straight, bent by hand',
    { value: 0.25, dimension: LENGTH },
    'what careful hand bending reaches',
  ),
  bend: tolerance(
    'angle of a bend or twist, bent by hand',
    { value: (2 * Math.PI) / 180, dimension: ANGLE },
    'what careful hand bending reaches',
  ),
  section: tolerance(
    'height and width of the wire',
    { value: 0.005, dimension: LENGTH },
    'sizes are declared to the nearest 0.01 mm (ISO 15841:2014); a wire in hand may be further off',
  ),
  /** Wire left at each end to hold it by: the upper end of 10 to 15 mm. */
  holding: {
    name: 'wire to hold it by, at each end',
    kind: 'value',
    value: { value: 15, dimension: LENGTH },
    range: { low: { value: 10, dimension: LENGTH }, high: { value: 15, dimension: LENGTH } },
    state: 'practice',
    reference: undefined,
  },
  /** Of a tooth whose root bears as much as an upper canine's under 100 gf (core/response/visits.ts). */
  rate: {
    name: 'rate of movement under 3.6 kPa on the root (100 gf on an upper canine)',
    kind: 'value',
    value: perMonth(0.71),
    range: { low: perMonth(0.57), high: perMonth(1) },
    state: 'found',
    reference:
      'canine retraction at 100 gf: upper 0.71, lower 0.57 mm a month; 0.8 to 1 mm is planned with (common practice)',
  },
  sharpEdges: {
    name: 'radius of the wire’s edges',
    kind: 'value',
    value: { value: 0, dimension: LENGTH },
    range: undefined,
    state: 'unstated',
    reference: 'real edges are rounded, which makes the wire softer: 0.08 mm by 5 % (0.019 × 0.025 in)',
  },
} as const satisfies Record<string, Assumption>;
