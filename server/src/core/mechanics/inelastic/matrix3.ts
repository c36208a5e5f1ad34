/** Rotations and 3 × 3 matrices in flat row-major arrays, without allocation, for the spatial step. */

/** Quaternion product a b. */
export function product(
  into: Float64Array,
  aw: number,
  ax: number,
  ay: number,
  az: number,
  bw: number,
  bx: number,
  by: number,
  bz: number,
): void {
  into[0] = aw * bw - ax * bx - ay * by - az * bz;
  into[1] = aw * bx + ax * bw + ay * bz - az * by;
  into[2] = aw * by - ax * bz + ay * bw + az * bx;
  into[3] = aw * bz + ax * by - ay * bx + az * bw;
}

/** exp of a rotation vector, and J with exp(φ + δ) = exp(J δ) exp(φ). */
export function exponential(p: Float64Array, at: number, into: Float64Array, derivative: Float64Array): void {
  const x = p[at];
  const y = p[at + 1];
  const z = p[at + 2];
  const t2 = x * x + y * y + z * z;
  let a: number;
  let b: number;
  let c: number;
  if (t2 < 0.25) {
    a = 1 - (t2 / 6) * (1 - (t2 / 20) * (1 - (t2 / 42) * (1 - t2 / 72)));
    b = 0.5 * (1 - (t2 / 12) * (1 - (t2 / 30) * (1 - (t2 / 56) * (1 - t2 / 90))));
    c = (1 / 6) * (1 - (t2 / 20) * (1 - (t2 / 42) * (1 - (t2 / 72) * (1 - t2 / 110))));
  } else {
    const t = Math.sqrt(t2);
    a = Math.sin(t) / t;
    b = (1 - Math.cos(t)) / t2;
    c = (1 - a) / t2;
  }
  into[0] = 1 - b * (y * y + z * z);
  into[4] = 1 - b * (x * x + z * z);
  into[8] = 1 - b * (x * x + y * y);
  into[1] = b * x * y - a * z;
  into[3] = b * x * y + a * z;
  into[2] = b * x * z + a * y;
  into[6] = b * x * z - a * y;
  into[5] = b * y * z - a * x;
  into[7] = b * y * z + a * x;
  derivative[0] = 1 - c * (y * y + z * z);
  derivative[4] = 1 - c * (x * x + z * z);
  derivative[8] = 1 - c * (x * x + y * y);
  derivative[1] = c * x * y - b * z;
  derivative[3] = c * x * y + b * z;
  derivative[2] = c * x * z + b * y;
  derivative[6] = c * x * z - b * y;
  derivative[5] = c * y * z - b * x;
  derivative[7] = c * y * z + b * x;
}

export function multiplyInto(
  into: Float64Array,
  at: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
): void {
  for (let row = 0; row < 9; row += 3) {
    const x = a[i + row];
    const y = a[i + row + 1];
    const z = a[i + row + 2];
    into[at + row] = x * b[j] + y * b[j + 3] + z * b[j + 6];
    into[at + row + 1] = x * b[j + 1] + y * b[j + 4] + z * b[j + 7];
    into[at + row + 2] = x * b[j + 2] + y * b[j + 5] + z * b[j + 8];
  }
}

/** Rᵀ a */
export function transposedInto(
  into: Float64Array,
  at: number,
  rotation: Float64Array,
  o: number,
  a: Float64Array,
): void {
  for (let row = 0; row < 3; row++) {
    const x = rotation[o + row];
    const y = rotation[o + 3 + row];
    const z = rotation[o + 6 + row];
    const to = at + 3 * row;
    into[to] = x * a[0] + y * a[3] + z * a[6];
    into[to + 1] = x * a[1] + y * a[4] + z * a[7];
    into[to + 2] = x * a[2] + y * a[5] + z * a[8];
  }
}

export function timesInto(into: Float64Array, at: number, a: Float64Array, i: number, x: Float64Array): void {
  for (let row = 0; row < 3; row++) {
    into[at + row] = a[i + 3 * row] * x[0] + a[i + 3 * row + 1] * x[1] + a[i + 3 * row + 2] * x[2];
  }
}

/** n × each column of a 3 × 3 matrix, in place. */
export function crossRows(a: Float64Array, n: Float64Array, at: number): void {
  const nx = n[at];
  const ny = n[at + 1];
  const nz = n[at + 2];
  for (let c = 0; c < 3; c++) {
    const x = a[c];
    const y = a[3 + c];
    const z = a[6 + c];
    a[c] = ny * z - nz * y;
    a[3 + c] = nz * x - nx * z;
    a[6 + c] = nx * y - ny * x;
  }
}

/** A 3 × 3 matrix times the matrix of n ×, in place. */
export function timesCross(a: Float64Array, n: Float64Array, at: number): void {
  const nx = n[at];
  const ny = n[at + 1];
  const nz = n[at + 2];
  for (let row = 0; row < 9; row += 3) {
    const x = a[row];
    const y = a[row + 1];
    const z = a[row + 2];
    a[row] = y * nz - z * ny;
    a[row + 1] = z * nx - x * nz;
    a[row + 2] = x * ny - y * nx;
  }
}

/** Adds the matrix of factor × v × to a 3 × 3 matrix. */
export function addCross(a: Float64Array, p: Float64Array, at: number, factor: number): void {
  const x = factor * p[at];
  const y = factor * p[at + 1];
  const z = factor * p[at + 2];
  a[1] -= z;
  a[2] += y;
  a[3] += z;
  a[5] -= x;
  a[6] -= y;
  a[7] += x;
}
