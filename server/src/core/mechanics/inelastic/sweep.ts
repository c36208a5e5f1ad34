/** One forward sweep over an inelastic span: defects, unbalanced sections and, for a tangent, the columns. */
import { arrival, recordDefect } from '../defect';
import { sweepLoose } from '../loose-span';
import { passSupport } from '../supports/supports';
import { cutStep, DRAWN_AT_END, DRAWN_AT_START, type InelasticSpan, WIDTH } from './inelastic-span';
import { integratePlanarElement, propagatePlanarElement } from './planar-element';
import { integrateSpatialElement, propagateSpatialElement, transferSpatialElement } from './spatial-element';

/** Fills the span's defects and `unbalanced`, with a `tangent` also the columns; false where a step is singular. */
export function sweep(of: InelasticSpan, tangent: boolean): boolean {
  const { span, columns } = of;
  const { planar, mesh, segment } = span;
  of.unbalanced = 0;
  const cutAtStart = tangent ? cutStep(of, 'start') : NONE;
  const cutAtEnd = tangent ? cutStep(of, 'end') : NONE;
  if (tangent) columns.fill(0, 0, WIDTH);
  for (let i = 0; i < mesh.steps; i++) {
    if (tangent && i > 0 && segment[i] !== segment[i - 1]) passSupport(span, i, columns, WIDTH * i, WIDTH / 6);
    const cut = i === cutAtStart ? DRAWN_AT_START : i === cutAtEnd ? DRAWN_AT_END : NONE;
    if (mesh.h[i] === 0 && cut === NONE && !hasCorner(of, i)) {
      passStep(of, i, tangent);
    } else if (planar) {
      integratePlanarElement(of, i, tangent, cut !== NONE);
      if (tangent) propagatePlanarElement(of, i, cut);
    } else {
      integrateSpatialElement(of, i, tangent, cut !== NONE);
      if (tangent && !propagateSpatialElement(of, i, cut)) return false;
    }
    if (!tangent) continue;
    const y = WIDTH * (i + 1) + 36;
    for (let k = 0; k < 6; k++) columns[y + k] += span.defect[6 * i + 6 + k];
  }
  return true;
}

/** Whether a step begins with a sharp corner. */
export function hasCorner({ span }: InelasticSpan, i: number): boolean {
  const { axes } = span.mesh;
  return axes[18 * i] !== 1 || axes[18 * i + 5] !== 1;
}

/**
 * The same for a span that its supports alone hold (loose-span.ts), with what its curvatures change by; false where the system is
 * singular.
 */
export function sweepLooseInelastic(of: InelasticSpan): boolean {
  const { span } = of;
  of.unbalanced = 0;
  return sweepLoose(span, (i, moves, forces, arrives) => {
    const { byNode, byForce, own } = of.bending!;
    if (span.mesh.h[i] === 0 && !hasCorner(of, i)) {
      passStep(of, i, false);
      for (let k = 0; k < 36; k++) moves[k] = k % 7 === 0 ? 1 : 0;
      forces.fill(0);
      byNode.fill(0, 36 * i, 36 * i + 36);
      byForce.fill(0, 36 * i, 36 * i + 36);
      own.fill(0, 6 * i, 6 * i + 6);
      arrives.fill(0);
    } else {
      integrateSpatialElement(of, i, true, false);
      const solved = transferSpatialElement(
        { end: moves, curvature: byNode.subarray(36 * i, 36 * i + 36) },
        { end: forces, curvature: byForce.subarray(36 * i, 36 * i + 36) },
        { end: arrives, curvature: own.subarray(6 * i, 6 * i + 6) },
      );
      if (!solved) return false;
    }
    for (let k = 0; k < 6; k++) arrives[k] += span.defect[6 * i + 6 + k];
    return true;
  });
}

/** A step of no length and no corner, as of wire that lies in a slot: both its nodes are one. */
function passStep({ span, columns, curvatureColumns }: InelasticSpan, i: number, tangent: boolean): void {
  const { rotation, position } = span;
  for (let k = 0; k < 4; k++) arrival[k] = rotation[4 * i + k];
  for (let k = 0; k < 3; k++) arrival[4 + k] = position[3 * i + k];
  recordDefect(span, i + 1);
  if (!tangent) return;
  columns.copyWithin(WIDTH * (i + 1), WIDTH * i, WIDTH * (i + 1));
  curvatureColumns.fill(0, WIDTH * i, WIDTH * (i + 1));
}

const NONE = -1;

/** Puts every node where the one before it and the curvatures between them lead. */
export function placeNodes(of: InelasticSpan): void {
  const { rotation, position, mesh, planar } = of.span;
  rotation.fill(0, 0, 4);
  rotation[0] = 1;
  position.fill(0, 0, 3);
  for (let i = 0; i < mesh.steps; i++) {
    if (planar) integratePlanarElement(of, i, false, false);
    else integrateSpatialElement(of, i, false, false);
    for (let k = 0; k < 4; k++) rotation[4 * i + 4 + k] = arrival[k];
    for (let k = 0; k < 3; k++) position[3 * i + 3 + k] = arrival[4 + k];
  }
}
