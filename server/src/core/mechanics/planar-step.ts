/**
 * One step of a span that lies in its start's tangent-up plane. The equations of integrate.ts fall apart into those
 * in the plane (rotation about z; x, y) and those out of it, so that the tangent costs a fraction.
 */
import { arrival, recordDefect } from './defect';
import { COLUMNS, type Span } from './span';

/** Per stage: coefficients named in `propagatePlanar`. */
const STAGE = 32;
const stages = new Float64Array(3 * STAGE);

/** Integrates one step's state, leaving its defect in the span and, for a `tangent`, its linearised stages for `propagatePlanar`. */
export function integratePlanar(span: Span, i: number, tangent: boolean): void {
  const { mesh, u, rotation, position } = span;
  const compliance = span.compliances[i];
  const force = span.segment[i];
  const { axes, displacement, turn } = mesh;
  const h = mesh.h[i];
  const { twist, up, side, shear, stretch, couple } = compliance;
  const gamma = stretch - shear;
  // A bend's pull turns its sections, and its moment stretches it; across, a torque shears it.
  const bendStretch = couple * compliance.curvatureSide;
  const bendShear = shear * compliance.curvatureSide;
  const mz0 = u[force + 2];
  const nx = u[force + 3];
  const ny = u[force + 4];
  const qw = rotation[4 * i];
  const qz = rotation[4 * i + 3];
  const rx = position[3 * i];
  const ry = position[3 * i + 1];
  const R00 = 1 - 2 * qz * qz;
  const R10 = 2 * qw * qz;
  // Slow rotation (quaternion w, z) and displacement of the stage, and the RK4 sums.
  let pw = 1;
  let pz = 0;
  let wx = 0;
  let wy = 0;
  let sw = 0;
  let sz = 0;
  let vx = 0;
  let vy = 0;
  let ex = 0;
  let ey = 0;
  for (let stage = 0; stage < 4; stage++) {
    const place = 18 * i + (stage === 0 ? 0 : stage === 3 ? 12 : 6);
    const gx = R00 * axes[place] - R10 * axes[place + 1];
    const gy = R10 * axes[place] + R00 * axes[place + 1];
    if (stage === 1 || stage === 3) {
      const at = 6 * i + (stage === 1 ? 0 : 3);
      ex = R00 * displacement[at] - R10 * displacement[at + 1];
      ey = R10 * displacement[at] + R00 * displacement[at + 1];
    }
    const bx = -2 * pz * (pw * gy + pz * gx);
    const by = 2 * pz * (pw * gx - pz * gy);
    const d1x = gx + bx;
    const d1y = gy + by;
    const qlx = -(rx + ex + wx);
    const qly = -(ry + ey + wy);
    const mz = mz0 + qlx * ny - qly * nx;
    const axial = d1x * nx + d1y * ny;
    const oz = side * mz + bendStretch * axial;
    const ga = gamma * axial + bendStretch * mz;
    const kw = -0.5 * oz * pz;
    const kz = 0.5 * oz * pw;
    const ux = bx + ga * d1x + shear * nx;
    const uy = by + ga * d1y + shear * ny;
    const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
    sw += weight * kw;
    sz += weight * kz;
    vx += weight * ux;
    vy += weight * uy;
    const ahead = stage === 2 ? h : h / 2;
    pw = 1 + ahead * kw;
    pz = ahead * kz;
    wx = ahead * ux;
    wy = ahead * uy;
    if (!tangent || stage === 1) continue;
    // Linearised stage: the columns use the start, the second middle and the end.
    const S = stages;
    const o = stage === 0 ? 0 : STAGE * (stage - 1);
    const g1 = 1 + ga;
    const l = gamma * (d1x * ny - d1y * nx);
    // In the plane: θz' by δx, δy, δnx, δny (by δm it is `side`); δx', δy' by θz; δ' by δn and by δm.
    const sx = bendStretch * d1x;
    const sy = bendStretch * d1y;
    S[o] = -side * ny;
    S[o + 1] = side * nx;
    S[o + 2] = sx - side * qly;
    S[o + 3] = sy + side * qlx;
    S[o + 4] = d1x * l - g1 * d1y;
    S[o + 5] = d1y * l + g1 * d1x;
    S[o + 6] = gamma * d1x * d1x + shear - sx * qly;
    S[o + 7] = gamma * d1x * d1y + sx * qlx;
    S[o + 8] = gamma * d1y * d1y + shear + sy * qlx;
    S[o + 9] = side;
    S[o + 25] = gamma * d1x * d1y - sy * qly;
    S[o + 26] = sx;
    S[o + 27] = sy;
    // Out of the plane: C in x and y; then θ' by θx, θy, δz, δnz; δz' by θx, θy, δnz and by δm.
    const tx = bendShear * d1x;
    const ty = bendShear * d1y;
    const c1 = twist - up;
    const C00 = up + c1 * d1x * d1x;
    const C01 = c1 * d1x * d1y;
    const C11 = up + c1 * d1y * d1y;
    S[o + 10] = C00;
    S[o + 11] = C01;
    S[o + 12] = C11;
    S[o + 13] = C01 * mz + tx * ny;
    S[o + 14] = C11 * mz + ty * ny;
    S[o + 15] = -C00 * mz - tx * nx;
    S[o + 16] = -C01 * mz - ty * nx;
    S[o + 17] = C00 * ny - C01 * nx;
    S[o + 18] = C01 * ny - C11 * nx;
    S[o + 19] = C00 * qly - C01 * qlx - tx;
    S[o + 20] = C01 * qly - C11 * qlx - ty;
    S[o + 21] = g1 * d1y - mz * ty;
    S[o + 22] = mz * tx - g1 * d1x;
    S[o + 23] = shear - tx * qly + ty * qlx;
    S[o + 28] = -tx;
    S[o + 29] = -ty;
  }
  const size = 1 / Math.sqrt((1 + sw) * (1 + sw) + sz * sz);
  const iw = (1 + sw) * qw - sz * qz;
  const iz = (1 + sw) * qz + sz * qw;
  const tw = turn[4 * i];
  const tz = turn[4 * i + 3];
  arrival[0] = size * (iw * tw - iz * tz);
  arrival[1] = arrival[2] = 0;
  arrival[3] = size * (iw * tz + iz * tw);
  arrival[4] = rx + ex + vx;
  arrival[5] = ry + ey + vy;
  arrival[6] = 0;
  recordDefect(span, i + 1);
}

/** Carries the columns of a node over the step last integrated. */
export function propagatePlanar(columns: Float64Array, from: number, h: number): void {
  columns.fill(0, from + COLUMNS, from + 2 * COLUMNS);
  inPlane(columns, from + 12, h, 9, 26, 27);
  inPlane(columns, from + 18, h, 2, 6, 25);
  inPlane(columns, from + 24, h, 3, 7, 8);
  inPlane(columns, from + 36, h, ZERO, ZERO, ZERO);
  outOfPlane(columns, from, h, 10, 11, 28);
  outOfPlane(columns, from + 6, h, 11, 12, 29);
  outOfPlane(columns, from + 30, h, 19, 20, 23);
}

/** A coefficient that stays zero. */
const ZERO = 24;

/** (θz, δx, δy) of one column by Kutta's third-order rule; a, b, c: places of the forcing of each. */
function inPlane(columns: Float64Array, from: number, h: number, a: number, b: number, c: number): void {
  const S = stages;
  const t = columns[from + 2];
  const x = columns[from + 3];
  const y = columns[from + 4];
  const t0 = S[0] * x + S[1] * y + S[a];
  const x0 = S[4] * t + S[b];
  const y0 = S[5] * t + S[c];
  const half = h / 2;
  let tt = t + half * t0;
  const t1 = S[32] * (x + half * x0) + S[33] * (y + half * y0) + S[32 + a];
  const x1 = S[36] * tt + S[32 + b];
  const y1 = S[37] * tt + S[32 + c];
  tt = t + h * (2 * t1 - t0);
  const t2 = S[64] * (x + h * (2 * x1 - x0)) + S[65] * (y + h * (2 * y1 - y0)) + S[64 + a];
  const x2 = S[68] * tt + S[64 + b];
  const y2 = S[69] * tt + S[64 + c];
  const sixth = h / 6;
  columns[from + COLUMNS + 2] = t + sixth * (t0 + 4 * t1 + t2);
  columns[from + COLUMNS + 3] = x + sixth * (x0 + 4 * x1 + x2);
  columns[from + COLUMNS + 4] = y + sixth * (y0 + 4 * y1 + y2);
}

/** (θx, θy, δz) of one column, likewise. */
function outOfPlane(columns: Float64Array, from: number, h: number, a: number, b: number, c: number): void {
  const S = stages;
  const t = columns[from];
  const p = columns[from + 1];
  const z = columns[from + 5];
  const t0 = S[13] * t + S[15] * p + S[17] * z + S[a];
  const p0 = S[14] * t + S[16] * p + S[18] * z + S[b];
  const z0 = S[21] * t + S[22] * p + S[c];
  const half = h / 2;
  let tt = t + half * t0;
  let pp = p + half * p0;
  let zz = z + half * z0;
  const t1 = S[45] * tt + S[47] * pp + S[49] * zz + S[32 + a];
  const p1 = S[46] * tt + S[48] * pp + S[50] * zz + S[32 + b];
  const z1 = S[53] * tt + S[54] * pp + S[32 + c];
  tt = t + h * (2 * t1 - t0);
  pp = p + h * (2 * p1 - p0);
  zz = z + h * (2 * z1 - z0);
  const t2 = S[77] * tt + S[79] * pp + S[81] * zz + S[64 + a];
  const p2 = S[78] * tt + S[80] * pp + S[82] * zz + S[64 + b];
  const z2 = S[85] * tt + S[86] * pp + S[64 + c];
  const sixth = h / 6;
  columns[from + COLUMNS] = t + sixth * (t0 + 4 * t1 + t2);
  columns[from + COLUMNS + 1] = p + sixth * (p0 + 4 * p1 + p2);
  columns[from + COLUMNS + 5] = z + sixth * (z0 + 4 * z1 + z2);
}
