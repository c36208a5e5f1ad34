/** Mean displacements and mean turn of a meshed cross-section in its plane, from its points' displacements. */
import type { SectionMesh } from './section-mesh';

/** Three linear forms in the points' displacements, each a pair of factors (up, side) per point. */
export type SectionMeans = readonly (readonly (readonly [up: number, side: number])[])[];

/** Mean displacement up, mean displacement sideways, mean turn about the tangent (rad): averages over the area. */
export function sectionMeans(mesh: SectionMesh): SectionMeans {
  const { value, up, side } = integrals(mesh);
  const area = value.reduce((sum, one) => sum + one, 0);
  const polar = mesh.points.reduce((sum, [y, z], i) => sum + y * up[i] + z * side[i], 0);
  return [
    value.map((one) => [one / area, 0] as const),
    value.map((one) => [0, one / area] as const),
    value.map((_, i) => [-side[i] / polar, up[i] / polar] as const),
  ];
}

/** Per point the integral of its shape function over the section, alone and times the place up and sideways. */
function integrals({ points, quads }: SectionMesh) {
  const value = points.map(() => 0);
  const up = points.map(() => 0);
  const side = points.map(() => 0);
  for (const quad of quads) {
    for (const [u, weightU] of gauss) {
      for (const [v, weightV] of gauss) {
        const shapes = serendipity(u, v);
        const sum = (which: 0 | 1, part: 0 | 1 | 2) =>
          quad.reduce((total, point, i) => total + shapes[i][part] * points[point][which], 0);
        const jacobian = sum(0, 1) * sum(1, 2) - sum(0, 2) * sum(1, 1);
        const weight = weightU * weightV * Math.abs(jacobian);
        for (const [i, point] of quad.entries()) {
          value[point] += weight * shapes[i][0];
          up[point] += weight * shapes[i][0] * sum(0, 0);
          side[point] += weight * shapes[i][0] * sum(1, 0);
        }
      }
    }
  }
  return { value, up, side };
}

const gauss = [
  [-Math.sqrt(0.6), 5 / 9],
  [0, 8 / 9],
  [Math.sqrt(0.6), 5 / 9],
] as const;

/** Shape functions of the eight-node quadrilateral with their derivatives, in the order of `SectionMesh.quads`. */
function serendipity(u: number, v: number): [number, number, number][] {
  const corners = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ];
  return [
    ...corners.map(([a, b]): [number, number, number] => [
      ((1 + a * u) * (1 + b * v) * (a * u + b * v - 1)) / 4,
      (a * (1 + b * v) * (2 * a * u + b * v)) / 4,
      (b * (1 + a * u) * (a * u + 2 * b * v)) / 4,
    ]),
    ...[-1, 1].map((b): [number, number, number] => [
      ((1 - u * u) * (1 + b * v)) / 2,
      -u * (1 + b * v),
      (b * (1 - u * u)) / 2,
    ]),
    ...[1, -1].map((a): [number, number, number] => [
      ((1 + a * u) * (1 - v * v)) / 2,
      (a * (1 - v * v)) / 2,
      -v * (1 + a * u),
    ]),
  ].map((_, k, all) => all[[0, 1, 2, 3, 4, 6, 5, 7][k]]);
}
