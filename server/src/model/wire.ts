/** The wire's section and the alloys: from the tree to numbers. */
import type { Alloy, Section } from '#core/design';
import type { UniaxialLaw } from '#core/material/uniaxial-law';
import { FORCE, LENGTH, NUMBER, STIFFNESS, STRESS } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import type { AlloyItem, Expression, SectionItem, SlotItem, SlotSize, Span, WireSize } from '#grammar/tree';
import { sourceStates } from '#grammar/words';
import { alloyPropertyMissing } from './diagnostics/alloy-property-missing';
import { lengthNotPositive } from './diagnostics/length-not-positive';
import { sourceStateUnknown } from './diagnostics/source-state-unknown';
import { unknownName } from './diagnostics/unknown-name';
import { evaluateNumber } from './expression/expectation';
import type { Place } from './expression/place';
import { findOfKind } from './names/lookup';
import { nearest } from './names/nearest';
import { checkRange } from './range';
import type { Definition } from './resolved';
import { modulusFromRate, yieldFromForce } from './three-point-bending';

export interface Wire {
  readonly section: Section;
  readonly alloy: Alloy;
  /** Wires side by side; one where it is absent. */
  readonly count?: number;
  /** Bends keep no stress of their forming. */
  readonly stressRelieved?: boolean;
}

export interface Slot {
  readonly height: number;
  readonly depth: number;
}

/** What an alloy states: name, dimension, meaning and an example for the message where it is missing. */
export const ALLOY_PROPERTIES: ReadonlyMap<
  string,
  {
    readonly dimension: Dimension;
    readonly documentation: string;
    readonly example: string;
    readonly needed: boolean;
    readonly zero?: boolean;
  }
> = new Map([
  [
    'modulus',
    {
      dimension: STRESS,
      documentation: 'Modulus of elasticity in bending and tension.',
      example: 'modulus = 180 GPa',
      needed: true,
    },
  ],
  ['poisson', { dimension: NUMBER, documentation: "Poisson's ratio.", example: 'poisson = 0.3', needed: true }],
  [
    'yield',
    { dimension: STRESS, documentation: 'Yield strength (0.2 % offset).', example: 'yield = 1400 MPa', needed: true },
  ],
  [
    'inner_radius',
    {
      dimension: NUMBER,
      documentation: 'Smallest usual inner bend radius, counted in thicknesses of the wire.',
      example: 'inner_radius = 1',
      needed: true,
    },
  ],
  [
    'hardening',
    {
      dimension: STRESS,
      documentation:
        'Slope of the stress-strain line past yield, to which the alloy hardens (kinematic: what one direction gains the other loses). 1 % of the modulus where it is not stated.',
      example: 'hardening = 0.66 GPa',
      needed: false,
      zero: true,
    },
  ],
  [
    'loading_plateau',
    {
      dimension: STRESS,
      documentation:
        'Stress of a superelastic alloy at which it transforms under load. Stands in the place of a yield strength.',
      example: 'loading_plateau = 430 MPa',
      needed: false,
    },
  ],
  [
    'unloading_plateau',
    {
      dimension: STRESS,
      documentation: 'Stress at which a superelastic alloy goes back when it is unloaded: the one that moves teeth.',
      example: 'unloading_plateau = 220 MPa',
      needed: false,
    },
  ],
  [
    'transformation_strain',
    {
      dimension: NUMBER,
      documentation: 'Strain that a superelastic alloy takes up along its plateau.',
      example: 'transformation_strain = 5 %',
      needed: false,
    },
  ],
  [
    'tensile_strength',
    { dimension: STRESS, documentation: 'Tensile strength.', example: 'tensile_strength = 1800 MPa', needed: false },
  ],
  [
    'bending_rate',
    {
      dimension: STIFFNESS,
      documentation:
        'Force-deflection rate of the three-point bending test over 10 mm (ISO 15841), as a maker may declare it; with `bending_thickness` it stands in the place of the modulus.',
      example: 'bending_rate = 11.6 N/mm',
      needed: false,
    },
  ],
  [
    'bending_force',
    {
      dimension: FORCE,
      documentation:
        'Bending force at 0.1 mm of offset in the three-point bending test over 10 mm (ISO 15841); with `bending_thickness` it stands in the place of the yield strength, as a lower estimate.',
      example: 'bending_force = 9 N',
      needed: false,
    },
  ],
  [
    'bending_thickness',
    {
      dimension: LENGTH,
      documentation: 'Thickness of the tested wire, through which it was bent; the diameter of a round one.',
      example: 'bending_thickness = 0.016 in',
      needed: false,
    },
  ],
  [
    'bending_width',
    {
      dimension: LENGTH,
      documentation: 'Width of the tested wire, across the bending; left out for a round one.',
      example: 'bending_width = 0.022 in',
      needed: false,
    },
  ],
]);

/** What of a three-point bending test stands in the place of a property. */
const BENDING_TEST: ReadonlyMap<string, string> = new Map([
  ['modulus', 'bending_rate'],
  ['yield', 'bending_force'],
]);

/** The alloy's numbers; undefined where one that the mechanics needs is missing or wrong. */
export function resolveAlloy(node: AlloyItem, place: Place): Alloy | undefined {
  const values = new Map<string, number>();
  const written = new Set<string>();
  for (const property of node.properties) {
    const { name, value, range, source } = property;
    if (source?.state && !(sourceStates as readonly string[]).includes(source.state.text)) {
      const likely = nearest(source.state.text, sourceStates);
      place.recorder.problem(sourceStateUnknown.at(source.state.span, source.state.text, likely));
    }
    if (!name) continue;
    const entry = ALLOY_PROPERTIES.get(name.text);
    if (!entry) {
      const known = [...ALLOY_PROPERTIES.keys()];
      place.recorder.problem(unknownName.at(name.span, 'alloy property', name.text, known, nearest(name.text, known)));
      continue;
    }
    written.add(name.text);
    const what = `The ${name.text.replace('_', ' ')} of an alloy`;
    const number = evaluateNumber(value, entry.dimension, what, place);
    const bounds = checkRange(range, entry.dimension, place);
    if (number === undefined) continue;
    if (!(number > 0) && !(number === 0 && entry.zero)) {
      const shown = formatQuantity({ value: number, dimension: entry.dimension });
      place.recorder.problem(lengthNotPositive.at(value?.span ?? property.span, what, shown, false));
      continue;
    }
    bounds?.check(name.text, number, value?.span ?? property.span);
    values.set(name.text, number);
  }
  for (const [name, { needed, example }] of ALLOY_PROPERTIES) {
    if (name === 'yield' && written.has('loading_plateau')) continue;
    const test = BENDING_TEST.get(name);
    if (test && written.has(test) && written.has('bending_thickness')) continue;
    if (needed && node.name && !written.has(name)) {
      place.recorder.problem(alloyPropertyMissing.at(node.name.span, node.name.text, name, example));
    }
  }
  const [poisson, innerRadius] = ['poisson', 'inner_radius'].map((name) => values.get(name));
  const [rate, force, thickness] = ['bending_rate', 'bending_force', 'bending_thickness'].map((name) =>
    values.get(name),
  );
  const tested = thickness === undefined ? undefined : { thickness, width: values.get('bending_width') };
  const modulus = values.get('modulus') ?? (rate && tested && modulusFromRate(rate, tested));
  const yieldStrength =
    values.get('loading_plateau') ?? values.get('yield') ?? (force && tested && yieldFromForce(force, tested));
  if (
    !node.name ||
    modulus === undefined ||
    poisson === undefined ||
    yieldStrength === undefined ||
    innerRadius === undefined
  ) {
    return undefined;
  }
  const law = lawOf(values, modulus, yieldStrength);
  return { name: node.name.text, modulus, poisson, yield: yieldStrength, law, smallestInnerRadius: innerRadius };
}

/** Superelastic where the alloy states its plateaus, otherwise elastic-plastic. */
function lawOf(values: ReadonlyMap<string, number>, modulus: number, yieldStrength: number): UniaxialLaw {
  const [loadingPlateau, unloadingPlateau, transformationStrain] = [
    'loading_plateau',
    'unloading_plateau',
    'transformation_strain',
  ].map((name) => values.get(name));
  if (loadingPlateau !== undefined && unloadingPlateau !== undefined && transformationStrain !== undefined) {
    return {
      kind: 'superelastic',
      loadingPlateau,
      unloadingPlateau: Math.min(unloadingPlateau, loadingPlateau),
      transformationStrain,
    };
  }
  const hardening = Math.min(values.get('hardening') ?? USUAL_HARDENING * modulus, MOST_HARDENING * modulus);
  return { kind: 'elastic-plastic', yield: yieldStrength, hardening };
}

/** Share of the modulus; assumed, no slope past yield is published for these wires. */
const USUAL_HARDENING = 0.01;
/** Beyond this there is no yield to speak of. */
const MOST_HARDENING = 0.9;

/** A wire's section: height along the slot's height, width into its depth, unless `ribbonwise`. */
export function resolveSection(size: WireSize | undefined, place: Place): Section | undefined {
  if (!size) return undefined;
  if (size.kind === 'round') {
    const diameter = positiveLength(size.diameter, 'The diameter of a wire', place);
    return diameter === undefined ? undefined : { kind: 'round', diameter };
  }
  if (size.kind === 'named') {
    const definition = findOfKind('section', size.name, place);
    if (!definition) return undefined;
    return resolveSection((definition.node as SectionItem).size, definition.home.place);
  }
  const first = positiveLength(size.height, 'The height of a wire', place);
  const second = positiveLength(size.width, 'The width of a wire', place);
  const corner = size.corner ? evaluateNumber(size.corner, LENGTH, 'The corner radius of a wire', place) : 0;
  if (first === undefined || second === undefined || corner === undefined) return undefined;
  const [height, width] = size.ribbonwise ? [second, first] : [first, second];
  const most = Math.min(height, width) / 2;
  if (corner < 0 || corner > most) {
    const shown = formatQuantity({ value: corner, dimension: LENGTH });
    const limit = formatQuantity({ value: most, dimension: LENGTH });
    place.recorder.problem(
      lengthNotPositive.at(
        size.corner?.span ?? size.span,
        `The corner radius of a wire, from 0 to half its thickness (${limit}),`,
        shown,
        true,
      ),
    );
    return undefined;
  }
  return { kind: 'rectangle', height, width, cornerRadius: corner };
}

export function resolveSlot(size: SlotSize | undefined, place: Place): Slot | undefined {
  if (!size) return undefined;
  if (size.kind === 'named') {
    const definition = findOfKind('slot', size.name, place);
    if (!definition) return undefined;
    return resolveSlot((definition.node as SlotItem).size, definition.home.place);
  }
  const height = positiveLength(size.height, 'The height of a slot', place);
  const depth = positiveLength(size.depth, 'The depth of a slot', place);
  return height === undefined || depth === undefined ? undefined : { height, depth };
}

/** Numbers of the alloy that a `wire` line or a dotted name refers to, without recording its problems again. */
export function alloyOf(definition: Definition): Alloy | undefined {
  return resolveAlloy(definition.node as AlloyItem, definition.home.place);
}

export function positiveLength(expression: Expression | undefined, what: string, place: Place): number | undefined {
  const length = evaluateNumber(expression, LENGTH, what, place);
  if (length === undefined || length > 0) return length;
  reportLength(expression?.span, what, length, false, place);
  return undefined;
}

export function lengthFromZero(expression: Expression | undefined, what: string, place: Place): number | undefined {
  const length = evaluateNumber(expression, LENGTH, what, place);
  // Sums of sizes come out negative by rounding alone.
  if (length === undefined || length >= 0) return length;
  if (length > -1e-9) return 0;
  reportLength(expression?.span, what, length, true, place);
  return undefined;
}

function reportLength(span: Span | undefined, what: string, length: number, zeroAllowed: boolean, place: Place): void {
  const shown = formatQuantity({ value: length, dimension: LENGTH });
  place.recorder.problem(lengthNotPositive.at(span ?? { start: 0, end: 0 }, what, shown, zeroAllowed));
}

/** Thickness of the section along a direction of its plane, given by its components along up and side, mm. */
export function thicknessAlong(section: Section, up: number, side: number): number {
  if (section.kind === 'round') return section.diameter;
  return section.height * Math.abs(up) + section.width * Math.abs(side);
}

/** Usual bend radius to the centre line, for a thickness in the plane of the bend, mm (handbook 8). */
export function usualBendRadius(alloy: Alloy, thickness: number): number {
  return (alloy.smallestInnerRadius + 0.5) * thickness;
}
