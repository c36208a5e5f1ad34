/** Block-tridiagonal linear systems with 6 × 6 blocks, by block elimination with pivoting inside the blocks. */

const size = 6;

export class BlockTridiagonal {
  readonly diagonal: Float64Array[];
  /** lower[i] couples block i to block i - 1, upper[i] to block i + 1. */
  readonly lower: Float64Array[];
  readonly upper: Float64Array[];
  readonly right: Float64Array[];

  constructor(readonly count: number) {
    const blocks = (length: number) => Array.from({ length: count }, () => new Float64Array(length));
    this.diagonal = blocks(size * size);
    this.lower = blocks(size * size);
    this.upper = blocks(size * size);
    this.right = blocks(size);
  }

  clear(): void {
    for (const blocks of [this.diagonal, this.lower, this.upper, this.right]) for (const block of blocks) block.fill(0);
  }

  /** Adds a 3 × 3 matrix at (row, column) of the block that couples block i to block j. */
  add(i: number, row: number, j: number, column: number, matrix: readonly number[], factor: number): void {
    const block = j === i ? this.diagonal[i] : j < i ? this.lower[i] : this.upper[i];
    for (let r = 0; r < 3; r++) {
      for (let c = 0; c < 3; c++) block[(row + r) * size + column + c] += factor * matrix[3 * r + c];
    }
  }

  /** Solves in place: afterwards `right` holds the solution. False where a pivot vanishes. */
  solve(): boolean {
    for (let i = 0; i < this.count; i++) {
      if (i > 0) {
        subtractProduct(this.diagonal[i], this.lower[i], this.upper[i - 1], size);
        subtractProduct(this.right[i], this.lower[i], this.right[i - 1], 1);
      }
      if (!solveDense(this.diagonal[i], this.upper[i], this.right[i])) return false;
    }
    for (let i = this.count - 2; i >= 0; i--) subtractProduct(this.right[i], this.upper[i], this.right[i + 1], 1);
    return true;
  }
}

/** target -= left × right, with `columns` columns. */
function subtractProduct(target: Float64Array, left: Float64Array, right: Float64Array, columns: number): void {
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < size; k++) {
      const factor = left[i * size + k];
      if (factor === 0) continue;
      for (let j = 0; j < columns; j++) target[i * columns + j] -= factor * right[k * columns + j];
    }
  }
}

/** Overwrites `many` (6 columns) and `one` (1 column) with matrix⁻¹ times them. */
function solveDense(matrix: Float64Array, many: Float64Array, one: Float64Array): boolean {
  for (let k = 0; k < size; k++) {
    let pivot = k;
    for (let i = k + 1; i < size; i++) {
      if (Math.abs(matrix[i * size + k]) > Math.abs(matrix[pivot * size + k])) pivot = i;
    }
    if (!(Math.abs(matrix[pivot * size + k]) > 1e-300)) return false;
    if (pivot !== k) {
      swapRows(matrix, k, pivot, size);
      swapRows(many, k, pivot, size);
      swapRows(one, k, pivot, 1);
    }
    for (let i = 0; i < size; i++) {
      if (i === k) continue;
      const factor = matrix[i * size + k] / matrix[k * size + k];
      if (factor === 0) continue;
      for (let j = k; j < size; j++) matrix[i * size + j] -= factor * matrix[k * size + j];
      for (let j = 0; j < size; j++) many[i * size + j] -= factor * many[k * size + j];
      one[i] -= factor * one[k];
    }
  }
  for (let i = 0; i < size; i++) {
    const inverse = 1 / matrix[i * size + i];
    for (let j = 0; j < size; j++) many[i * size + j] *= inverse;
    one[i] *= inverse;
  }
  return true;
}

function swapRows(matrix: Float64Array, a: number, b: number, columns: number): void {
  for (let j = 0; j < columns; j++) {
    const kept = matrix[a * columns + j];
    matrix[a * columns + j] = matrix[b * columns + j];
    matrix[b * columns + j] = kept;
  }
}
