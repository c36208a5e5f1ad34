/**
 * How a clamped end face is held: as a section of the rod is. It stays plane and square to the slot, in its place and turn
 * on the mean over the section, but may widen, narrow and shear in its plane. Held rigidly the wire would be stiffer by
 * some hundredths of its thickness at either end; held in single points it would give way there.
 *
 * Written as equations between displacements along the outer axes and leading numbers, each a displacement of a
 * node of its own: three means (up, sideways, turn), and per point how far it lies along the slot.
 */
import type { Matrix } from '../../oracle/rotation';
import { equation } from './cards';
import { sectionMeans } from './section-average';
import type { SectionMesh } from './section-mesh';

export interface FaceHold {
  readonly lines: readonly string[];
  /** Per point of the face and outer axis: true where the displacement follows from the equations. */
  readonly follows: (point: number, axis: number) => boolean;
}

/**
 * `nodes` are the face's, in the order of the section's points; `means` leads the three means with its displacements along
 * x, y and z, and `along[i]` point i with its displacement along x. A face that slides has the middle point's place instead.
 */
export function holdFace(
  section: SectionMesh,
  nodes: readonly number[],
  axes: Matrix,
  means: number,
  along: readonly number[],
  slides: boolean,
): FaceHold {
  const [tangent, up, side] = [0, 1, 2].map((c) => [axes[c], axes[3 + c], axes[6 + c]]);
  const middle = section.points.findIndex(([y, z]) => Math.hypot(y, z) < 1e-9);
  const columns = 3 * nodes.length;
  interface Row {
    readonly factors: Float64Array;
    /** Of the leading displacements: node, axis, factor. */
    leading: [number, number, number][];
  }
  const rows: Row[] = [];
  for (const [i, leader] of along.entries()) {
    if (slides && i === middle) continue;
    const factors = new Float64Array(columns);
    for (let k = 0; k < 3; k++) {
      factors[3 * i + k] = tangent[k];
      if (slides) factors[3 * middle + k] = -tangent[k];
    }
    rows.push({ factors, leading: slides ? [] : [[leader, 0, -1]] });
  }
  for (const [m, mean] of sectionMeans(section).entries()) {
    const factors = new Float64Array(columns);
    for (const [i, [a, b]] of mean.entries()) {
      for (let k = 0; k < 3; k++) factors[3 * i + k] = a * up[k] + b * side[k];
    }
    rows.push({ factors, leading: [[means, m, -1]] });
  }

  // Gauss-Jordan: every equation is left with one displacement that follows and stands in no other.
  const following: number[] = [];
  for (const row of rows) {
    let pivot = 0;
    for (let c = 0; c < columns; c++) {
      // The middle of a sliding face moves by itself.
      if (slides && row.leading.length === 0 && Math.floor(c / 3) === middle) continue;
      if (Math.abs(row.factors[c]) > Math.abs(row.factors[pivot])) pivot = c;
    }
    scaleRow(row, 1 / row.factors[pivot]);
    for (const other of rows) {
      if (other !== row && other.factors[pivot] !== 0) subtractRow(other, row, other.factors[pivot]);
    }
    following.push(pivot);
  }
  return {
    lines: rows.flatMap(({ factors, leading }, r) => {
      const others = [...factors.keys()].filter((c) => c !== following[r] && Math.abs(factors[c]) > 1e-12);
      return equation([
        [nodes[Math.floor(following[r] / 3)], following[r] % 3, 1],
        ...others.map((c) => [nodes[Math.floor(c / 3)], c % 3, factors[c]] as const),
        ...leading,
      ]);
    }),
    follows: (point, axis) => following.includes(3 * point + axis),
  };

  function scaleRow(row: Row, factor: number): void {
    for (let c = 0; c < columns; c++) row.factors[c] *= factor;
    row.leading = row.leading.map(([node, axis, value]) => [node, axis, value * factor]);
  }

  function subtractRow(row: Row, other: Row, factor: number): void {
    for (let c = 0; c < columns; c++) row.factors[c] -= factor * other.factors[c];
    for (const [node, axis, value] of other.leading) {
      const same = row.leading.find(([n, a]) => n === node && a === axis);
      if (same) same[2] -= factor * value;
      else row.leading.push([node, axis, -factor * value]);
    }
  }
}
