/** Dense linear systems of fixed small size in flat row-major arrays, without allocation. */

/**
 * Factorises the n × n matrix `a` in place by elimination with row pivoting; `pivots` receives the row
 * order. Returns the determinant, 0 for a singular matrix (whose factors must not be used).
 */
export function factorise(a: Float64Array, n: number, pivots: Int32Array): number {
  let determinant = 1;
  for (let k = 0; k < n; k++) {
    let row = k;
    let largest = Math.abs(a[k * n + k]);
    for (let i = k + 1; i < n; i++) {
      const size = Math.abs(a[i * n + k]);
      if (size > largest) {
        largest = size;
        row = i;
      }
    }
    pivots[k] = row;
    if (!(largest > 0)) return 0;
    if (row !== k) {
      determinant = -determinant;
      for (let j = 0; j < n; j++) {
        const swap = a[k * n + j];
        a[k * n + j] = a[row * n + j];
        a[row * n + j] = swap;
      }
    }
    const pivot = a[k * n + k];
    determinant *= pivot;
    for (let i = k + 1; i < n; i++) {
      const factor = (a[i * n + k] /= pivot);
      if (factor === 0) continue;
      for (let j = k + 1; j < n; j++) a[i * n + j] -= factor * a[k * n + j];
    }
  }
  return Number.isFinite(determinant) ? determinant : 0;
}

/** Solves with the factors of `factorise`; `b` is replaced by the solution. */
export function solveFactorised(a: Float64Array, n: number, pivots: Int32Array, b: Float64Array): void {
  for (let k = 0; k < n; k++) {
    const row = pivots[k];
    const swap = b[k];
    b[k] = b[row];
    b[row] = swap;
  }
  for (let i = 1; i < n; i++) {
    let sum = b[i];
    for (let j = 0; j < i; j++) sum -= a[i * n + j] * b[j];
    b[i] = sum;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i];
    for (let j = i + 1; j < n; j++) sum -= a[i * n + j] * b[j];
    b[i] = sum / a[i * n + i];
  }
}

/** The row x with x A = b, from the same factors; the n numbers of b at `at` are replaced by it. */
export function solveRow(a: Float64Array, n: number, pivots: Int32Array, b: Float64Array, at: number): void {
  for (let j = 0; j < n; j++) {
    let sum = b[at + j];
    for (let i = 0; i < j; i++) sum -= b[at + i] * a[i * n + j];
    b[at + j] = sum / a[j * n + j];
  }
  for (let j = n - 2; j >= 0; j--) {
    let sum = b[at + j];
    for (let i = j + 1; i < n; i++) sum -= b[at + i] * a[i * n + j];
    b[at + j] = sum;
  }
  for (let k = n - 1; k >= 0; k--) {
    const column = at + pivots[k];
    const swap = b[at + k];
    b[at + k] = b[column];
    b[column] = swap;
  }
}
