/**
 * Three-component vectors and row-major 3 × 3 matrices, written for the oracle alone so that it
 * shares no code with the solver it is held against.
 */
export type Vector = readonly number[];
export type Matrix = readonly number[];

export const identity: Matrix = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export function add(a: Vector, b: Vector): number[] {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

export function subtract(a: Vector, b: Vector): number[] {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

export function scale(a: Vector, factor: number): number[] {
  return [a[0] * factor, a[1] * factor, a[2] * factor];
}

export function cross(a: Vector, b: Vector): number[] {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function norm(a: Vector): number {
  return Math.hypot(a[0], a[1], a[2]);
}

export function multiply(a: Matrix, b: Matrix): number[] {
  const product = new Array<number>(9).fill(0);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      for (let k = 0; k < 3; k++) product[3 * i + j] += a[3 * i + k] * b[3 * k + j];
    }
  }
  return product;
}

export function transpose(a: Matrix): number[] {
  return [a[0], a[3], a[6], a[1], a[4], a[7], a[2], a[5], a[8]];
}

export function apply(a: Matrix, v: Vector): number[] {
  return [
    a[0] * v[0] + a[1] * v[1] + a[2] * v[2],
    a[3] * v[0] + a[4] * v[1] + a[5] * v[2],
    a[6] * v[0] + a[7] * v[1] + a[8] * v[2],
  ];
}

export function applyTransposed(a: Matrix, v: Vector): number[] {
  return apply(transpose(a), v);
}

export function sum(a: Matrix, b: Matrix, factor = 1): number[] {
  return a.map((value, index) => value + factor * b[index]);
}

/** Matrix of the cross product from the left: skew(a) v = a × v. */
export function skew(a: Vector): number[] {
  return [0, -a[2], a[1], a[2], 0, -a[0], -a[1], a[0], 0];
}

/** Rotation matrix of a rotation vector (Rodrigues). */
export function rotation(vector: Vector): number[] {
  const angle = norm(vector);
  if (angle < 1e-12) return sum(identity, skew(vector));
  const axis = skew(scale(vector, 1 / angle));
  return sum(sum(identity, axis, Math.sin(angle)), multiply(axis, axis), 1 - Math.cos(angle));
}

/** Rotation vector of a rotation matrix, angle below π. */
export function rotationVector(a: Matrix): number[] {
  const twiceSine = [a[7] - a[5], a[2] - a[6], a[3] - a[1]];
  const sine = norm(twiceSine) / 2;
  const cosine = (a[0] + a[4] + a[8] - 1) / 2;
  const angle = Math.atan2(sine, cosine);
  if (sine > 1e-6) return scale(twiceSine, angle / (2 * sine));
  if (cosine > 0) return scale(twiceSine, 0.5);
  // Half a turn: the axis is the largest column of (R + 1) / 2.
  const column = [0, 1, 2].reduce((best, k) => (a[4 * k] > a[4 * best] ? k : best), 0);
  const axis = [0, 1, 2].map((row) => (a[3 * row + column] + (row === column ? 1 : 0)) / 2);
  return scale(axis, angle / norm(axis));
}
