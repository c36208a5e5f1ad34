import type { Span } from '#grammar/tree';

/** A record of the tree: it has a span, and its fields hold further records, lists of them, or plain values. */
export interface TreeNode {
  readonly kind?: string;
  readonly span: Span;
}

/** Records of the tree that contain the offset, outermost first. */
export function nodesAt(root: TreeNode, offset: number): TreeNode[] {
  const found: TreeNode[] = [];
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(visit);
    else if (isNode(value) && value.span.start <= offset && offset <= value.span.end) {
      found.push(value);
      Object.values(value).forEach(visit);
    }
  };
  visit(root);
  return found;
}

function isNode(value: unknown): value is TreeNode {
  return typeof value === 'object' && value !== null && 'span' in value;
}
