/**
 * Torsion of rectangles with rounded corners against Prandtl's stress function solved by finite differences: ∇²φ = -2 with
 * φ = 0 on the edge, J = 2 ∫ φ. Second order up to the curved edge (Shortley and Weller's unequal arms), extrapolated
 * from two meshes.
 */
import { describe, expect, it } from 'vitest';
import { sectionProperties } from '#core/material/section';

describe('the torsion constant', () => {
  it('of sharp rectangles is that of the finite differences, which are therefore to be trusted', () => {
    for (const [h, w] of [
      [0.4826, 0.635],
      [0.4, 0.8],
    ]) {
      expect(Math.abs(extrapolated(h, w, 0) / torsion(h, w, 0) - 1)).toBeLessThan(2e-5);
    }
  });

  // 0.019 x 0.025, 0.016 x 0.022, 0.017 x 0.025 and 0.016 square with the edges that real wires have, and beyond.
  it.each([
    [0.4826, 0.635, 0.06],
    [0.4826, 0.635, 0.1],
    [0.4064, 0.5588, 0.08],
    [0.4318, 0.635, 0.12],
    [0.4064, 0.4064, 0.1],
    [0.4, 1.2, 0.15],
  ])('of %f x %f with corners of %f mm', (h, w, r) => {
    expect(Math.abs(torsion(h, w, r) / extrapolated(h, w, r) - 1)).toBeLessThan(3e-4);
  });
});

function torsion(height: number, width: number, cornerRadius: number): number {
  return sectionProperties({ kind: 'rectangle', height, width, cornerRadius }).torsionConstant;
}

function extrapolated(h: number, w: number, r: number): number {
  return (4 * finiteDifferences(h, w, r, 64) - finiteDifferences(h, w, r, 32)) / 3;
}

/** On a quarter of the section, `n` steps along its half width; successive over-relaxation. */
function finiteDifferences(h: number, w: number, r: number, n: number): number {
  const [a, b] = [w / 2, h / 2];
  const m = Math.round((n * b) / a);
  const [dx, dy] = [a / n, b / m];
  /** Half width of the section at height y, and the same the other way round. */
  const edge = (half: number, other: number, y: number) =>
    y <= other - r ? half : half - r + Math.sqrt(Math.max(r * r - (y - other + r) ** 2, 0));
  const inside = (i: number, j: number) =>
    i < n && j < m && i * dx < edge(a, b, j * dy) - 1e-12 && j * dy < edge(b, a, i * dx) - 1e-12;
  const phi = new Float64Array((n + 1) * (m + 1));
  const at = (i: number, j: number) => i * (m + 1) + j;
  const over = 2 / (1 + Math.sin(Math.PI / (2 * Math.max(n, m))));
  for (let change = 1; change > 1e-12 * a * b; ) {
    change = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < m; j++) {
        if (!inside(i, j)) continue;
        const right = inside(i + 1, j) ? dx : edge(a, b, j * dy) - i * dx;
        const above = inside(i, j + 1) ? dy : edge(b, a, i * dx) - j * dy;
        const values = [
          // Beyond an axis of symmetry stands what stands on this side of it.
          [phi[at(i + 1, j)], phi[at(i === 0 ? 1 : i - 1, j)], right, i === 0 ? right : dx],
          [phi[at(i, j + 1)], phi[at(i, j === 0 ? 1 : j - 1)], above, j === 0 ? above : dy],
        ];
        let sum = 2;
        let weight = 0;
        for (const [next, before, forward, back] of values) {
          sum += (2 / (forward + back)) * (next / forward + before / back);
          weight += 2 / (forward * back);
        }
        const step = over * (sum / weight - phi[at(i, j)]);
        phi[at(i, j)] += step;
        change = Math.max(change, Math.abs(step));
      }
    }
  }
  let integral = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < m; j++) integral += phi[at(i, j)] * (i === 0 ? 0.5 : 1) * (j === 0 ? 0.5 : 1);
  }
  return 8 * integral * dx * dy;
}
