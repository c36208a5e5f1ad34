/**
 * Nodes of an inelastic span are places of the wire itself, so that its sections keep their history. A support that the wire slides
 * past goes with its node some way along the steps beside it (sliding-nodes.ts), as a slot's edge cuts those of an arm; then it passes on
 * to the node that is nearer by now.
 */
import { arrival } from '../defect';
import { divideAtSupports } from '../span';
import { slideNodes } from '../supports/sliding-nodes';
import { layBeside } from '../supports/supports';
import type { InelasticSpan } from './inelastic-span';
import { integrateSpatialElement } from './spatial-element';
import { hasCorner } from './sweep';

/** Sets how far a support's node may go from its place. */
function reachBeside(of: InelasticSpan): void {
  const { span, slides } = of;
  if (!span.supports) return;
  const { nodes, reach } = span.supports;
  for (let k = 0; k < nodes.length; k++) {
    const node = nodes[k];
    const goes = slides[k] === 1 && isFreeAt(of, node);
    reach[2 * k] = !goes ? -1 : isOutside(of, node - 1) ? node : node - 1;
    reach[2 * k + 1] = !goes ? -1 : isOutside(of, node) ? node : node + 1;
  }
}

/**
 * Passes supports on to nodes that are nearer to where they touch the wire; true where one was. Their nodes are put where the wire has
 * them.
 */
export function passOn(of: InelasticSpan): boolean {
  const { span, held } = of;
  if (!span.supports) return false;
  const { nodes, slid, offset } = span.supports;
  const { ownLength } = span.mesh;
  const touched = slid.slice();
  for (const { support, ahead } of held.laws) touched[support] += ahead ? ahead(span, support) : 0;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = 0;
  const pass = (k: number, by: 1 | -1): boolean => {
    const passed = ownLength[by > 0 ? nodes[k] : nodes[k] - 1];
    if (of.slides[k] === 0 || by * (touched[k] - offset[k]) <= 0.5 * passed || !canStand(of, k, nodes[k] + by))
      return false;
    lowest = Math.min(lowest, nodes[k], nodes[k] + by);
    highest = Math.max(highest, nodes[k], nodes[k] + by);
    nodes[k] += by;
    offset[k] += by * passed;
    slid[k] = offset[k];
    return true;
  };
  // Each makes room for the one behind it.
  for (let k = nodes.length - 1; k >= 0; k--) while (pass(k, 1));
  for (let k = 0; k < nodes.length; k++) while (pass(k, -1));
  if (highest === 0) return false;
  stand(of);
  const { rotation, position } = span;
  for (let j = Math.max(lowest, span.loose ? 2 : 1); j <= highest; j++) {
    integrateSpatialElement(of, j - 1, false, false);
    for (let c = 0; c < 4; c++) rotation[4 * j + c] = arrival[c];
    for (let c = 0; c < 3; c++) position[3 * j + c] = arrival[4 + c];
  }
  slideNodes(held);
  return true;
}

/** Puts supports to nodes, at their own places. */
export function standAt(of: InelasticSpan, nodes: Int32Array): void {
  const { supports, mesh } = of.span;
  if (!supports) return;
  supports.nodes.set(nodes);
  for (let k = 0; k < nodes.length; k++) {
    const [low, high] = [Math.min(nodes[k], of.places[k]), Math.max(nodes[k], of.places[k])];
    let between = 0;
    for (let i = low; i < high; i++) between += mesh.ownLength[i];
    supports.offset[k] = nodes[k] < of.places[k] ? -between : between;
  }
  supports.slid.set(supports.offset);
  stand(of);
}

/** Makes the span's parts go by the nodes at which its supports stand. */
function stand(of: InelasticSpan): void {
  const { span, forces } = of;
  const supports = span.supports!;
  // Steps that were beside a support have their own lengths again.
  for (let i = 0; i < span.mesh.steps; i++) span.mesh.h[i] = span.mesh.ownLength[i];
  reachBeside(of);
  divideAtSupports(span.segment, supports);
  for (let i = 0; i < span.mesh.steps; i++) forces[i] = span.u.subarray(span.segment[i], span.segment[i] + 6);
  layBeside(supports, span.mesh);
}

/** Whether a support may pass on to a node: none of the others is at it, and it is no end. */
function canStand(of: InelasticSpan, k: number, node: number): boolean {
  const { supports, mesh } = of.span;
  if (node === supports!.nodes[k - 1] || node === supports!.nodes[k + 1]) return false;
  return node > 0 && node < mesh.steps && isFreeAt(of, node);
}

/** Whether a node may go along the wire: straight wire of one kind lies on either side that is followed. */
function isFreeAt(of: InelasticSpan, node: number): boolean {
  const { sections } = of;
  const [before, after] = [node - 1, node];
  if (isOutside(of, before)) return isStraightStep(of, after);
  if (isOutside(of, after)) return isStraightStep(of, before);
  return (
    isStraightStep(of, before) &&
    isStraightStep(of, after) &&
    sections[before] === sections[after] &&
    !hasCorner(of, after)
  );
}

/** Whether a step is none of the wire that is followed, but stands for what lies beyond the outermost support. */
function isOutside({ span, held }: InelasticSpan, i: number): boolean {
  if (i === 0) return span.loose !== undefined;
  return i === span.mesh.steps - 1 && held.end.kind === 'free' && span.mesh.ownLength[i] === 0;
}

function isStraightStep({ nominal, bent }: InelasticSpan, i: number): boolean {
  for (let c = 3 * i; c < 3 * i + 3; c++) if (nominal[c] !== 0 || bent[c] !== 0) return false;
  return true;
}
