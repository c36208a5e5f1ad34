/**
 * The elastic-centre formula of handbook 3.10 for a planar wire held at both ends: small displacements,
 * bending only, by quadrature over the nominal wire line. Shares only the input record with the solver.
 */
import type { ApplianceDesign } from '#core/design';
import type { Vector } from './rotation';
import { stiffnessOf } from './stiffness';
import { layOut, nominalPlace, piecesBetween } from './wire-line';

export interface PlanarForces {
  /** Of the wire on the tooth, in the x-y plane, moments about z at the ends of the free wire; N, N mm. */
  readonly first: { readonly force: readonly [number, number]; readonly moment: number };
  readonly last: { readonly force: readonly [number, number]; readonly moment: number };
  /** Developed length and height of the centroid of the free wire line above its first end, mm. */
  readonly developedLength: number;
  readonly centroidHeight: number;
}

/**
 * Forces when the free wire between two attachments is brought from rest to an end that stands off by
 * (dx, dy, turn) from its nominal place, preactivation (about z) included.
 */
export function elasticCentre(
  design: ApplianceDesign,
  displacement: { readonly x: number; readonly y: number; readonly turn: number },
): PlanarForces {
  const [a, b] = design.attachments;
  const from = a.station + a.length / 2;
  const to = b.station - b.length / 2;
  const pieces = piecesBetween(design, from, to, 0.02, Math.PI / 720);
  const places = layOut(pieces, nominalPlace(design, from), 0);
  const end = places[places.length - 1].position;
  const start = places[0].position;
  const bending = stiffnessOf(design).turn[2];

  // Midpoint rule on very short pieces: error below 1e-7 of each integral.
  const points: { at: Vector; length: number }[] = [];
  let x = displacement.x;
  let y = displacement.y;
  let turn = displacement.turn;
  pieces.forEach((piece, i) => {
    const at = [0, 1, 2].map((k) => (places[i].position[k] + places[i + 1].position[k]) / 2);
    if (piece.length > 0) points.push({ at, length: piece.length });
    // A bend of angle θ at p would carry the far end by θ × (end - p); the attachments undo that.
    const angle = piece.preactivation[2];
    x -= -angle * (end[1] - at[1]);
    y -= angle * (end[0] - at[0]);
    turn -= angle;
  });

  const length = points.reduce((total, point) => total + point.length, 0);
  const mean = (k: number) => points.reduce((total, point) => total + point.at[k] * point.length, 0) / length;
  const [xb, yb] = [mean(0), mean(1)];
  const moment = (f: (at: Vector) => number) => points.reduce((total, point) => total + f(point.at) * point.length, 0);
  const iy = moment((at) => (at[1] - yb) ** 2);
  const ix = moment((at) => (at[0] - xb) ** 2);
  const ixy = moment((at) => (at[0] - xb) * (at[1] - yb));

  const right = [bending * (x + (end[1] - yb) * turn), bending * (y - (end[0] - xb) * turn)];
  const determinant = iy * ix - ixy * ixy;
  const fx = (ix * right[0] + ixy * right[1]) / determinant;
  const fy = (ixy * right[0] + iy * right[1]) / determinant;
  const couple = (bending * turn) / length;
  // Force F and internal moment act on the wire's far end from outside; the wire acts back on the tooth.
  const internal = (at: Vector) => couple - (at[0] - xb) * fy + (at[1] - yb) * fx;
  return {
    first: { force: [fx, fy], moment: internal(start) },
    last: { force: [-fx, -fy], moment: -internal(end) },
    developedLength: length,
    centroidHeight: yb - start[1],
  };
}
