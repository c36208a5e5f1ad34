/** Which sizes, angles and figures of an appliance scatter, by how much, and where they are written. */
import type { Scatter } from '#core/analysis/scatter';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { Span } from '#grammar/tree';
import { alloyFigures } from './alloy-figures';
import { DEFAULTS, type Provenance } from './provenance';
import type { PathStep, ResolvedAppliance } from './resolved';

export interface ScatteredSize extends Provenance {
  readonly scatter: Scatter;
  /** e.g. "bend of 90 deg toward gingival", "modulus of beta_titanium". */
  readonly label: string;
  readonly dimension: Dimension;
  /** The item of the appliance's own path that it belongs to; undefined for the wire's own figures. */
  readonly pathSpan: Span | undefined;
}

/** None while something needed for the mechanics is missing or wrong. */
export function scatteredSizes(appliance: ResolvedAppliance): readonly ScatteredSize[] {
  return [...alloyScatter(appliance), ...sectionScatter(appliance), ...bendingScatter(appliance)];
}

function alloyScatter({ alloy, design, gauge }: ResolvedAppliance): ScatteredSize[] {
  if (!alloy || !design) return [];
  return alloyFigures(alloy).flatMap(({ name, value, range, state, reference }) => {
    if (!range || (name !== 'modulus' && name !== 'poisson' && name !== 'yield')) return [];
    // The force of a wire that was measured does not spread with the alloy's modulus.
    if (gauge && name === 'modulus') return [];
    const [low, high] = [range.low, range.high].map((end) => end.value - value.value);
    if (low === high) return [];
    const { dimension } = value;
    return [
      {
        ...{ scatter: { kind: name, low, high }, label: `${name} of ${design.alloy.name}`, dimension },
        ...{ pathSpan: undefined, state, reference },
      },
    ];
  });
}

function sectionScatter({ design }: ResolvedAppliance): ScatteredSize[] {
  if (!design) return [];
  const { value, state, reference } = DEFAULTS.section;
  const sizes = design.section.kind === 'round' ? (['diameter'] as const) : (['height', 'width'] as const);
  return sizes.map((kind) => ({
    ...{ scatter: { kind, low: -value.value, high: value.value }, label: `${kind} of the wire` },
    ...{ dimension: LENGTH, pathSpan: undefined, state, reference },
  }));
}

/** One for every straight, bend and twist of the wire between its first and its last seat: what lies beyond does nothing. */
function bendingScatter({ steps, design }: ResolvedAppliance): ScatteredSize[] {
  const stations = design?.attachments.map(({ station }) => station) ?? [];
  const [first, last] = [Math.min(...stations), Math.max(...stations)];
  return steps.flatMap((step) => {
    const [from, end] = step.elements;
    const outside = step.to <= first || step.from >= last;
    const kind = scatterKind(step);
    const amount = kind === 'straight' ? step.to - step.from : (step.angle ?? 0);
    if (!kind || outside || from === end || amount === 0) return [];
    const { value, state, reference } = kind === 'straight' ? DEFAULTS.straight : DEFAULTS.bend;
    const scatter: Scatter = { kind, elements: step.elements, amount, low: -value.value, high: value.value };
    return [
      { scatter, label: labelOf(step, amount), dimension: value.dimension, pathSpan: step.pathSpan, state, reference },
    ];
  });
}

function scatterKind({ kind }: PathStep): 'straight' | 'bend' | 'twist' | undefined {
  switch (kind) {
    case 'straight':
    case 'twist':
      return kind;
    case 'bend':
    case 'preactivate':
    case 'helix':
      return 'bend';
    default:
      return undefined;
  }
}

function labelOf({ kind, direction }: PathStep, amount: number): string {
  const size = formatQuantity({ value: amount, dimension: kind === 'straight' ? LENGTH : ANGLE });
  const word = kind === 'preactivate' ? 'preactivation' : kind;
  return `${word} of ${size}${direction === undefined ? '' : ` toward ${direction}`}`;
}
