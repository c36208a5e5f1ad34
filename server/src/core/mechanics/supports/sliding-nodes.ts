/**
 * Where wire slides past a support, the support's node goes along the wire so that it stays where the wire is touched: what presses
 * there acts at a node, and bends the wire from there on. Of the straight wire on either side, one stretch becomes as much longer as
 * the other becomes shorter; the nodes in it keep their shares of it.
 */
import type { HeldSpan } from '../held-span';
import { setStraightStep } from '../mesh';
import { type Span, turnNode } from '../span';
import { strainRates } from '../strain-rates';

/** Lets the nodes of a span's supports go to where those touch the wire now. */
export function slideNodes({ span, laws }: HeldSpan): void {
  // Each makes room for the one behind it.
  for (let l = laws.length - 1; l >= 0; l--) {
    const { support, ahead } = laws[l];
    const by = ahead ? ahead(span, support) : 0;
    if (by > NEAR) slideNode(span, support, Math.min(by, FURTHEST));
  }
  for (let l = 0; l < laws.length; l++) {
    const { support, ahead } = laws[l];
    const by = ahead ? ahead(span, support) : 0;
    if (by < -NEAR) slideNode(span, support, Math.max(by, -FURTHEST));
  }
}

/** mm. A force s from its node bends a span of length L by some s²/L² too much or too little: 1e-7. */
const NEAR = 1e-3;
/** mm, at once: a wire that stands across its slot while it is still far from equilibrium says nothing of where it will pass. */
const FURTHEST = 1;

function slideNode(span: Span, k: number, wanted: number): void {
  const { mesh, supports } = span;
  const { nodes, slid, reach } = supports!;
  const node = nodes[k];
  const [from, to] = [reach[2 * k], reach[2 * k + 1]];
  if (from < 0) return;
  const room = wanted > 0 ? roomBetween(mesh.h, node, to) : roomBetween(mesh.h, from, node);
  const by = Math.sign(wanted) * Math.min(Math.abs(wanted), SHARE * room);
  // Where no wire to speak of lies beyond, what there is goes along.
  for (let j = to === node ? mesh.steps : to - 1; j > node; j--) {
    moveAlong(span, j, to === node ? by : (by * (to - j)) / (to - node));
  }
  for (let j = from + 1; j < node; j++) moveAlong(span, j, (by * (j - from)) / (node - from));
  moveAlong(span, node, by);
  slid[k] += by;
  for (let i = from; i < node; i++) setStraightStep(mesh, i, mesh.h[i] + by / (node - from));
  for (let i = node; i < to; i++) setStraightStep(mesh, i, mesh.h[i] - by / (to - node));
}

/** Of the wire that is left on the side to which a node goes, at most. */
const SHARE = 0.8;

/** Wire between two nodes, mm; between a node and itself nothing ends it. */
function roomBetween(h: Float64Array, from: number, to: number): number {
  if (from === to) return Number.POSITIVE_INFINITY;
  let room = 0;
  for (let i = from; i < to; i++) room += h[i];
  return room;
}

/** Puts a node where the straight wire is `by` mm further on, to second order. */
function moveAlong(span: Span, node: number, by: number): void {
  const { position, rotation } = span;
  strainRates(span, node, rates);
  const [ax, ay, az, x, y, z] = [rates[0], rates[1], rates[2], rates[3], rates[4], rates[5]];
  const half = 0.5 * by * by;
  position[3 * node] += by * x + half * (ay * z - az * y);
  position[3 * node + 1] += by * y + half * (az * x - ax * z);
  position[3 * node + 2] += by * z + half * (ax * y - ay * x);
  turnNode(rotation, 4 * node, by * ax, by * ay, by * az, by * by * (ax * ax + ay * ay + az * az));
}

const rates = new Float64Array(6);
