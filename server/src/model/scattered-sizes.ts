/** Which sizes, angles and figures of an appliance scatter, by how much, and where they are written. */
import { type Scatter, sameSection } from '#core/analysis/scatter';
import { sharedAttachments } from '#core/analysis/several-wires';
import type { ApplianceDesign, Section } from '#core/design';
import { ANGLE, LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { Span } from '#grammar/tree';
import { alloyFigures } from './alloy-figures';
import { find } from './names/scope';
import { DEFAULTS, type Provenance } from './provenance';
import type { PathStep, ResolvedAppliance } from './resolved';
import { stretches } from './stock';

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

/** Of the auxiliary wires that hold teeth of the appliance; none of their sizes is of its own path. */
export function scatteredAuxiliaries({ design: main, auxiliaries }: ResolvedAppliance): readonly {
  readonly name: string;
  readonly design: ApplianceDesign;
  readonly sizes: readonly ScatteredSize[];
}[] {
  return auxiliaries.flatMap((auxiliary) => {
    const { name, design } = auxiliary;
    if (!main || !design || sharedAttachments(main, design).length === 0) return [];
    const sizes = scatteredSizes(auxiliary).map((size) => ({
      ...size,
      label: `${size.label}, in ${name}`,
      pathSpan: undefined,
    }));
    return [{ name, design, sizes }];
  });
}

/** Every alloy that the wire is of: an alloy is one figure, wherever it stands in the wire. */
function alloyScatter({ alloy, design, gauge, scope }: ResolvedAppliance): ScatteredSize[] {
  if (!design) return [];
  const others = [...new Set(design.elements.flatMap(({ stock }) => stock?.alloy.name ?? []))].filter(
    (name) => name !== design.alloy.name,
  );
  const found = [
    { name: design.alloy.name, definition: alloy },
    ...others.map((name) => ({ name, definition: find(scope, name, ['alloy'])?.definition })),
  ];
  return found.flatMap(({ name: of, definition }) =>
    (definition ? alloyFigures(definition) : []).flatMap(({ name, value, range, state, reference }) => {
      if (!range || (name !== 'modulus' && name !== 'poisson' && name !== 'yield')) return [];
      const own = of === design.alloy.name;
      // The force of a wire that was measured does not spread with the alloy's modulus.
      if (gauge && own && name === 'modulus') return [];
      const [low, high] = [range.low, range.high].map((end) => end.value - value.value);
      if (low === high) return [];
      const { dimension } = value;
      return [
        {
          ...{ scatter: { kind: name, low, high, ...(!own && { alloy: of }) }, label: `${name} of ${of}`, dimension },
          ...{ pathSpan: undefined, state, reference },
        },
      ];
    }),
  );
}

/** Every section that the wire has, once: the wire's own, then those that it is stepped to. */
function sectionScatter({ design }: ResolvedAppliance): ScatteredSize[] {
  if (!design) return [];
  const { value, state, reference } = DEFAULTS.section;
  const sections: Section[] = [design.section];
  for (const { stock } of design.elements) {
    if (stock && !sections.some((one) => sameSection(one, stock.section))) sections.push(stock.section);
  }
  return sections.flatMap((section, k) => {
    const sizes = section.kind === 'round' ? (['diameter'] as const) : (['height', 'width'] as const);
    const from = stretches(design).find(({ stock }) => sameSection(stock.section, section))?.from ?? 0;
    const where = k === 0 ? 'of the wire' : `of the wire from ${formatQuantity({ value: from, dimension: LENGTH })} on`;
    return sizes.map((kind) => ({
      ...{
        scatter: { kind, low: -value.value, high: value.value, ...(k > 0 && { section }) },
        label: `${kind} ${where}`,
      },
      ...{ dimension: LENGTH, pathSpan: undefined, state, reference },
    }));
  });
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
