import type { Name } from '#grammar/tree';
import { knownQuantity, type Value } from '../expression/value';
import type { Definition, Home } from '../resolved';

/** A definition; its value is worked out when first asked for. */
export function newDefinition(
  kind: Definition['kind'],
  name: Name,
  node: Definition['node'],
  home: Home,
  value: () => Value | undefined = () => undefined,
  parameters: readonly Definition[] = [],
): Definition {
  return {
    kind,
    name: name.text,
    uri: home.uri,
    span: name.span,
    doc: 'doc' in node ? node.doc : undefined,
    node,
    get value() {
      return knownQuantity(value());
    },
    get dimension() {
      const known = value();
      return known?.kind === 'quantity' ? known.dimension : undefined;
    },
    home,
    parameters,
  };
}
