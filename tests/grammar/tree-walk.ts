import type { Span } from '#grammar/tree';

export interface Node {
  readonly kind: string | undefined;
  readonly span: Span;
  readonly children: readonly Node[];
}

/** A tree's nodes with spans, whatever their kind. */
export function nodesOf(value: unknown): Node[] {
  if (typeof value !== 'object' || value === null) return [];
  const children = Object.entries(value).flatMap(([key, child]) => (key.endsWith('pan') ? [] : nodesOf(child)));
  if (Array.isArray(value) || !('span' in value)) return children;
  const kind = 'kind' in value ? String(value.kind) : undefined;
  return [{ kind, span: value.span as Span, children }];
}

/** Every node of a forest, parents first. */
export function flatten(nodes: readonly Node[]): Node[] {
  return nodes.flatMap((node) => [node, ...flatten(node.children)]);
}

/** The first thing wrong with the spans, or undefined: offsets are whole, ordered, inside the text and inside the parent. */
export function spanFault(nodes: readonly Node[], within: Span): string | undefined {
  for (const node of nodes) {
    const { start, end } = node.span;
    const sound =
      Number.isInteger(start) && Number.isInteger(end) && within.start <= start && start <= end && end <= within.end;
    if (!sound) return `${node.kind ?? 'node'} ${start}..${end} in ${within.start}..${within.end}`;
    const fault = spanFault(node.children, node.span);
    if (fault !== undefined) return fault;
  }
  return undefined;
}
