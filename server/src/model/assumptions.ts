/** Everything that the results of an appliance rest on and that its shape does not say. */
import { LENGTH } from '#core/units/dimension';
import type { SectionItem } from '#grammar/tree';
import { alloyFigures } from './alloy-figures';
import { knownQuantity } from './expression/value';
import { find } from './names/scope';
import { type Assumption, DEFAULTS, provenanceOf } from './provenance';
import type { ResolvedAppliance } from './resolved';
import { responseFigures } from './tooth-data';

export function assumptionsOf(appliance: ResolvedAppliance): readonly Assumption[] {
  const { alloy, design } = appliance;
  if (!design) return [];
  const sharp = design.section.kind === 'rectangle' && design.section.cornerRadius === 0;
  return [
    ...(alloy ? alloyFigures(alloy) : []).map(
      ({ name, ...figure }): Assumption => ({
        name: `${name.replace('_', ' ')} of ${design.alloy.name}`,
        kind: 'value',
        ...figure,
      }),
    ),
    ...namedSection(appliance),
    ...(sharp ? [DEFAULTS.sharpEdges] : []),
    DEFAULTS.section,
    DEFAULTS.straight,
    DEFAULTS.bend,
    DEFAULTS.holding,
    ...toothFigures(appliance),
    ...(appliance.visits?.node.clauses.every(({ kind }) => kind !== 'rate') ? [DEFAULTS.rate] : []),
  ];
}

/** What is known of the teeth of groups, each figure once. */
function toothFigures({ groups, scope }: ResolvedAppliance): Assumption[] {
  const names = groups.flatMap(({ node, teeth, resistance }) =>
    teeth.flatMap((tooth) => {
      const { surface, root, depth } = responseFigures(tooth);
      const given = node.clauses.some(({ kind }) => kind === 'root');
      const known = depth.find((name) => find(scope, name, ['let', 'parameter']));
      return [surface, ...(given ? [] : [root]), ...(resistance === 'estimated' && known ? [known] : [])];
    }),
  );
  return [...new Set(names)].flatMap((name): Assumption[] => {
    const named = find(scope, name, ['let', 'parameter']);
    const value = knownQuantity(named?.value());
    if (!named || !value) return [];
    const { node } = named.definition;
    const source = provenanceOf('source' in node ? node.source : undefined);
    return [{ name: name.replaceAll('_', ' '), kind: 'value', value, range: undefined, ...source }];
  });
}

/** The sizes of a section that the wire takes by name. */
function namedSection({ node, scope, design }: ResolvedAppliance): Assumption[] {
  const wire = node.members.find((member) => member.kind === 'wire');
  if (wire?.size?.kind !== 'named' || !design) return [];
  const name = wire.size.name.text;
  const definition = find(scope, name, ['section'])?.definition;
  if (definition?.kind !== 'section') return [];
  const source = provenanceOf((definition.node as SectionItem).source);
  const { section } = design;
  const sizes =
    section.kind === 'round'
      ? [['diameter', section.diameter] as const]
      : [['height', section.height] as const, ['width', section.width] as const];
  return sizes.map(([size, value]) => ({
    ...{ name: `${size} of ${name}`, kind: 'value', value: { value, dimension: LENGTH }, range: undefined, ...source },
  }));
}
