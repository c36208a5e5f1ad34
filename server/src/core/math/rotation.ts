/** Rotations as rotation vectors (axis × angle, rad) and matrices, and the arc they sweep. */
import { column, cross, dot, type Mat3, type Vec3 } from './vector';

/** Rotation matrix of a rotation vector (Rodrigues). */
export function rotationMatrix(v: Vec3): Mat3 {
  const [x, y, z] = v;
  const t2 = x * x + y * y + z * z;
  const t = Math.sqrt(t2);
  const a = sinc(t);
  const b = versine(t);
  const c = 1 - b * t2;
  return [
    c + b * x * x,
    b * x * y - a * z,
    b * x * z + a * y,
    b * y * x + a * z,
    c + b * y * y,
    b * y * z - a * x,
    b * z * x - a * y,
    b * z * y + a * x,
    c + b * z * z,
  ];
}

/** Rotation matrix of a unit quaternion (w, x, y, z) stored at an offset. */
export function quaternionMatrix(q: ArrayLike<number>, at: number): Mat3 {
  const [w, x, y, z] = [q[at], q[at + 1], q[at + 2], q[at + 3]];
  return [
    1 - 2 * (y * y + z * z),
    2 * (x * y - w * z),
    2 * (x * z + w * y),
    2 * (x * y + w * z),
    1 - 2 * (x * x + z * z),
    2 * (y * z - w * x),
    2 * (x * z - w * y),
    2 * (y * z + w * x),
    1 - 2 * (x * x + y * y),
  ];
}

/** Rotation vector of a rotation matrix, of length 0 to π. */
export function rotationVector(m: Mat3): Vec3 {
  const x = m[7] - m[5];
  const y = m[2] - m[6];
  const z = m[3] - m[1];
  const sine2 = Math.hypot(x, y, z);
  const cosine2 = m[0] + m[4] + m[8] - 1;
  const angle = Math.atan2(sine2, cosine2);
  if (sine2 > 1e-6 || cosine2 > 0) {
    const factor = sine2 < 1e-9 ? 0.5 : angle / sine2;
    return [x * factor, y * factor, z * factor];
  }
  // Half a turn: the axis stands in the symmetric part, (m + 1) / 2 = axis axisᵀ.
  const squares: Vec3 = [(m[0] + 1) / 2, (m[4] + 1) / 2, (m[8] + 1) / 2];
  if (squares[0] >= squares[1] && squares[0] >= squares[2]) {
    const a = Math.sqrt(squares[0]);
    return [angle * a, (angle * (m[1] + m[3])) / (4 * a), (angle * (m[2] + m[6])) / (4 * a)];
  }
  if (squares[1] >= squares[2]) {
    const a = Math.sqrt(squares[1]);
    return [(angle * (m[1] + m[3])) / (4 * a), angle * a, (angle * (m[5] + m[7])) / (4 * a)];
  }
  const a = Math.sqrt(squares[2]);
  return [(angle * (m[2] + m[6])) / (4 * a), (angle * (m[5] + m[7])) / (4 * a), angle * a];
}

/**
 * Displacement, in the frame at its start, along a curve of constant body curvature that turns by `v`
 * over `length`: ∫ exp(s v / length) e₁ ds. A circular arc or a helix, exactly.
 */
export function arcDisplacement(v: Vec3, length: number): Vec3 {
  const [x, y, z] = v;
  const t2 = x * x + y * y + z * z;
  const t = Math.sqrt(t2);
  const b = versine(t);
  const c = cubicRest(t);
  return [length * (1 - c * (y * y + z * z)), length * (b * z + c * x * y), length * (-b * y + c * x * z)];
}

/** sin t / t */
function sinc(t: number): number {
  return t < 1e-4 ? 1 - (t * t) / 6 : Math.sin(t) / t;
}

/** (1 - cos t) / t² */
function versine(t: number): number {
  if (t < 1e-4) return 0.5 - (t * t) / 24;
  const s = Math.sin(t / 2) / t;
  return 2 * s * s;
}

/** (t - sin t) / t³ */
function cubicRest(t: number): number {
  if (t > 0.1) return (t - Math.sin(t)) / (t * t * t);
  const t2 = t * t;
  return (1 - (t2 / 20) * (1 - (t2 / 42) * (1 - t2 / 72))) / 6;
}

/** 1 for right-handed axes, -1 for left-handed ones, as those of teeth on the patient's left are. */
export function handedness(axes: Mat3): 1 | -1 {
  return dot(cross(column(axes, 0), column(axes, 1)), column(axes, 2)) < 0 ? -1 : 1;
}
