/** Values of dotted names: sizes of the wire, figures of an alloy, results of the mechanics. */

import { sectionProperties } from '#core/material/section';
import { LENGTH } from '#core/units/dimension';
import type { MemberExpression, Name } from '#grammar/tree';
import { resultInShape } from '../diagnostics/result-in-shape';
import { unknownName } from '../diagnostics/unknown-name';
import { wrongKindOfName } from '../diagnostics/wrong-kind-of-name';
import { nearest } from '../names/nearest';
import { find, namesInReach } from '../names/scope';
import type { Definition } from '../resolved';
import { RESULTS, type ResultOwner } from '../results';
import { ALLOY_PROPERTIES, alloyOf, usualBendRadius, type Wire } from '../wire';
import { kindPhrase, type Place } from './place';
import { type QuantityValue, quantityValue } from './value';

/** The number of a result, of the auxiliary wire where one is named, or undefined while it is not known. */
export type ResultSource = (
  owner: ResultOwner,
  ownerName: string,
  result: string,
  auxiliary?: string,
) => number | undefined;

/** What stands around an expression besides its names. */
export interface MemberSources {
  /** The appliance's wire; absent outside appliances, or where it is not known. */
  wire(): Wire | undefined;
  /** Whether `wire` means something here. */
  readonly insideAppliance: boolean;
  /** Absent where results cannot be used: in the shape of the wire. */
  readonly results: ResultSource | undefined;
  /** Attachments of an auxiliary wire of the appliance around; undefined for any other wire. */
  auxiliary?(definition: Definition): readonly Definition[] | undefined;
}

/** Kinds of definitions that have something after a dot. */
const DOTTED: readonly Definition['kind'][] = ['attachment', 'loop', 'load', 'group', 'alloy', 'auxiliary'];

type Lookup = (expression: MemberExpression, place: Place) => QuantityValue | undefined;

export function memberLookup(sources: MemberSources): Lookup {
  return (expression, place) => {
    const [base, ...rest] = expression.path;
    // A dot with nothing after it has had its syntax problem.
    if (rest.length === 0 || rest.some((name) => name.text === '')) return undefined;
    if (base.text === 'wire' || base.text === 'activation') return ownMember(base.text, base, rest, sources, place);
    const named = find(place.scope, base.text, DOTTED);
    if (!named && base.text === 'plan') return ownMember('plan', base, rest, sources, place);
    if (!named) {
      const known = [...namesInReach(place.scope, DOTTED), 'wire', 'activation', 'plan'];
      place.recorder.problem(
        unknownName.at(
          base.span,
          'attachment, loop, load, group or alloy',
          base.text,
          known,
          nearest(base.text, known),
        ),
      );
      return undefined;
    }
    place.recorder.reference(base.span, named.definition);
    return definitionMember(named.definition, base, rest, sources, place);
  };
}

/** At file level there is neither a wire nor a result. */
export const fileMember: Lookup = memberLookup({ wire: () => undefined, insideAppliance: false, results: undefined });

/** Sizes of the wire that a shape may be written in. */
export const WIRE_SIZES: ReadonlyMap<string, { documentation: string; get(wire: Wire): number }> = new Map([
  [
    'height',
    {
      documentation: 'Height of the wire along the slot’s height.',
      get: ({ section }: Wire) => sectionProperties(section).height,
    },
  ],
  [
    'width',
    { documentation: 'Width of the wire into the slot.', get: ({ section }: Wire) => sectionProperties(section).width },
  ],
  [
    'thickness',
    {
      documentation: 'The smaller of the wire’s height and width.',
      get: ({ section }: Wire) => sectionProperties(section).thickness,
    },
  ],
  [
    'bend_radius',
    {
      documentation: 'Usual radius, to the centre line, of a bend toward gingival or occlusal.',
      get: ({ section, alloy }: Wire) => usualBendRadius(alloy, sectionProperties(section).height),
    },
  ],
  [
    'side_bend_radius',
    {
      documentation: 'Usual radius, to the centre line, of a bend toward buccal or lingual.',
      get: ({ section, alloy }: Wire) => usualBendRadius(alloy, sectionProperties(section).width),
    },
  ],
]);

function ownMember(
  owner: 'wire' | 'activation' | 'plan',
  base: Name,
  rest: readonly Name[],
  sources: MemberSources,
  place: Place,
): QuantityValue | undefined {
  if (!sources.insideAppliance) {
    place.recorder.problem(
      wrongKindOfName.at(base.span, owner, 'known only inside an appliance or a part', 'a value of the file'),
    );
    return undefined;
  }
  const size = owner === 'wire' && rest.length === 1 ? WIRE_SIZES.get(rest[0].text) : undefined;
  if (size) {
    const wire = sources.wire();
    return quantityValue(wire && size.get(wire), LENGTH);
  }
  return resultMember(owner, owner, rest, sources, place, owner === 'wire' ? [...WIRE_SIZES.keys()] : []);
}

function definitionMember(
  definition: Definition,
  base: Name,
  rest: readonly Name[],
  sources: MemberSources,
  place: Place,
): QuantityValue | undefined {
  if (isOwner(definition.kind)) {
    return resultMember(definition.kind, definition.name, rest, sources, place, []);
  }
  if (definition.kind === 'alloy') return alloyMember(definition, rest, place);
  const attachments = definition.kind === 'auxiliary' ? sources.auxiliary?.(definition) : undefined;
  if (attachments) return auxiliaryMember(definition.name, attachments, rest, sources, place);
  const expected = 'an attachment, a loop, a load, a group of teeth, an alloy or an auxiliary wire of this appliance';
  place.recorder.problem(wrongKindOfName.at(base.span, base.text, kindPhrase(definition.kind), expected));
  return undefined;
}

function isOwner(kind: Definition['kind']): kind is 'attachment' | 'loop' | 'load' | 'group' {
  return kind === 'attachment' || kind === 'loop' || kind === 'load' || kind === 'group';
}

/** `tip_back.molar.force.occlusal`, `tip_back.wire.stress` */
function auxiliaryMember(
  auxiliary: string,
  attachments: readonly Definition[],
  [owner, ...rest]: readonly Name[],
  sources: MemberSources,
  place: Place,
): QuantityValue | undefined {
  const attachment = attachments.find(({ name }) => name === owner.text);
  if (attachment) place.recorder.reference(owner.span, attachment);
  else if (owner.text !== 'wire') {
    const known = [...attachments.map(({ name }) => name), 'wire'];
    place.recorder.problem(
      unknownName.at(owner.span, `attachment of ${auxiliary}`, owner.text, known, nearest(owner.text, known)),
    );
    return undefined;
  }
  if (rest.length === 0) return undefined;
  return resultMember(attachment ? 'attachment' : 'wire', owner.text, rest, sources, place, [], auxiliary);
}

function alloyMember(definition: Definition, rest: readonly Name[], place: Place): QuantityValue | undefined {
  const name = rest.map((part) => part.text).join('.');
  const property = ALLOY_PROPERTIES.get(name);
  if (!property) {
    const known = [...ALLOY_PROPERTIES.keys()];
    place.recorder.problem(unknownName.at(spanOf(rest), 'alloy property', name, known, nearest(name, known)));
    return undefined;
  }
  const alloy = alloyOf(definition);
  const value =
    alloy &&
    new Map<string, number>([
      ['modulus', alloy.modulus],
      ['poisson', alloy.poisson],
      ['yield', alloy.yield],
      ['inner_radius', alloy.smallestInnerRadius],
    ]).get(name);
  return quantityValue(value, property.dimension);
}

function resultMember(
  owner: ResultOwner,
  ownerName: string,
  rest: readonly Name[],
  { results }: MemberSources,
  place: Place,
  besides: readonly string[],
  auxiliary?: string,
): QuantityValue | undefined {
  const name = rest.map((part) => part.text).join('.');
  const result = RESULTS[owner].get(name);
  if (!result) {
    const known = [...besides, ...RESULTS[owner].keys()];
    place.recorder.problem(unknownName.at(spanOf(rest), `result of ${ownerName}`, name, known, nearest(name, known)));
    return undefined;
  }
  if (!results) {
    place.recorder.problem(resultInShape.at(spanOf(rest), `${ownerName}.${name}`));
    return undefined;
  }
  return quantityValue(results(owner, ownerName, name, auxiliary), result.dimension, true);
}

function spanOf(names: readonly Name[]) {
  return { start: names[0].span.start, end: names[names.length - 1].span.end };
}
