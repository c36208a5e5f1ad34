/**
 * The elastic rod's equations over a span, with their tangent, in one forward sweep.
 *
 *   m(s) = m₀ + (r₀ - r) × n                      moment, n constant
 *   R' = ω R + R κ₀,  ω = C m,  C = R K⁻¹ Rᵀ      C m = c2 m + c1 d1 (d1·m) + c3 d3 (d3·m)
 *   r' = d1 + n/GA + (1/EA - 1/GA) d1 (d1·n)
 *
 * (geometrically exact rod: Simo, Comput Methods Appl Mech Eng 1985;49:55-70; Antman, Nonlinear Problems of
 * Elasticity.) The intrinsic shape is factored out exactly, R = P Rᵢ E with E = exp(s κ₀), so that classical
 * RK4 works on the slow rotation P (a quaternion) and on w = r - rᵢ - Rᵢ ∫ E e₁ only. The tangent columns
 * (θ, δ) = (rotation, displacement) run through the same stages:
 *
 *   θ' = C (δm + m × θ),   δm = δm₀ + (r₀ - r) × δn + n × δ
 *   δ' = (1 + γ d1·n) θ × d1 + γ d1 (θ·(d1 × n) + d1·δn) + δn/GA,   γ = 1/EA - 1/GA
 *
 * Each step starts from the stored pose of its node; what it misses the next node's stored pose by is added to
 * the seventh column. The start of the span is the origin.
 */
import { COLUMNS, type Span } from './span';

/**
 * Sweeps the span and fills `defect` and, where `tangent` is set, `columns`. The last node's `defect` and column y
 * refer to the stored pose of the span's end like those of any other node.
 */
export function integrate(span: Span, tangent: boolean): void {
  const { mesh, columns } = span;
  if (tangent) columns.fill(0, 0, COLUMNS);
  for (let i = 0; i < mesh.steps; i++) {
    integrateState(span, i);
    if (!tangent) continue;
    propagate(columns, COLUMNS * i, mesh.h[i]);
    const y = COLUMNS * (i + 1) + 36;
    for (let k = 0; k < 6; k++) columns[y + k] += span.defect[6 * i + 6 + k];
  }
}

/**
 * Per stage: θ' by θ (A, 9), θ' by δ (N, 9), δ' by θ (D, 9), then the forcing: θ' by δm₀ (C, 9), θ' by δn (9),
 * δ' by δn (9), all by columns.
 */
const STAGE = 54;
const stages = new Float64Array(4 * STAGE);

/** Integrates one step's state, leaving its defect in the span and its linearised stages in `stages`. */
function integrateState(span: Span, i: number): void {
  const { mesh, compliance, u, rotation, position, defect } = span;
  const h = mesh.h[i];
  const c2 = compliance.up;
  const c1 = compliance.twist - c2;
  const c3 = compliance.side - c2;
  const shear = compliance.shear;
  const gamma = compliance.stretch - shear;
  const mx0 = u[0];
  const my0 = u[1];
  const mz0 = u[2];
  const nx = u[3];
  const ny = u[4];
  const nz = u[5];
  const qw = rotation[4 * i];
  const qx = rotation[4 * i + 1];
  const qy = rotation[4 * i + 2];
  const qz = rotation[4 * i + 3];
  const rx = position[3 * i];
  const ry = position[3 * i + 1];
  const rz = position[3 * i + 2];
  // Rotation matrix of the node.
  const R00 = 1 - 2 * (qy * qy + qz * qz);
  const R01 = 2 * (qx * qy - qw * qz);
  const R02 = 2 * (qx * qz + qw * qy);
  const R10 = 2 * (qx * qy + qw * qz);
  const R11 = 1 - 2 * (qx * qx + qz * qz);
  const R12 = 2 * (qy * qz - qw * qx);
  const R20 = 2 * (qx * qz - qw * qy);
  const R21 = 2 * (qy * qz + qw * qx);
  const R22 = 1 - 2 * (qx * qx + qy * qy);
  // Slow rotation and displacement of the stage, and the RK4 sums.
  let pw = 1;
  let px = 0;
  let py = 0;
  let pz = 0;
  let wx = 0;
  let wy = 0;
  let wz = 0;
  let sw = 0;
  let sx = 0;
  let sy = 0;
  let sz = 0;
  let vx = 0;
  let vy = 0;
  let vz = 0;
  let ex = 0;
  let ey = 0;
  let ez = 0;
  for (let stage = 0; stage < 4; stage++) {
    const place = 18 * i + (stage === 0 ? 0 : stage === 3 ? 12 : 6);
    const axes = mesh.axes;
    let ax = axes[place];
    let ay = axes[place + 1];
    let az = axes[place + 2];
    const gx = R00 * ax + R01 * ay + R02 * az;
    const gy = R10 * ax + R11 * ay + R12 * az;
    const gz = R20 * ax + R21 * ay + R22 * az;
    ax = axes[place + 3];
    ay = axes[place + 4];
    az = axes[place + 5];
    const fx = R00 * ax + R01 * ay + R02 * az;
    const fy = R10 * ax + R11 * ay + R12 * az;
    const fz = R20 * ax + R21 * ay + R22 * az;
    if (stage === 1 || stage === 3) {
      const at = 6 * i + (stage === 1 ? 0 : 3);
      const displacement = mesh.displacement;
      ax = displacement[at];
      ay = displacement[at + 1];
      az = displacement[at + 2];
      ex = R00 * ax + R01 * ay + R02 * az;
      ey = R10 * ax + R11 * ay + R12 * az;
      ez = R20 * ax + R21 * ay + R22 * az;
    }
    // Tangent and side axis: rotated by P (v + 2 p × (p × v + w v)).
    let tx = 2 * (py * gz - pz * gy);
    let ty = 2 * (pz * gx - px * gz);
    let tz = 2 * (px * gy - py * gx);
    const bx = pw * tx + py * tz - pz * ty;
    const by = pw * ty + pz * tx - px * tz;
    const bz = pw * tz + px * ty - py * tx;
    const d1x = gx + bx;
    const d1y = gy + by;
    const d1z = gz + bz;
    tx = 2 * (py * fz - pz * fy);
    ty = 2 * (pz * fx - px * fz);
    tz = 2 * (px * fy - py * fx);
    const d3x = fx + pw * tx + py * tz - pz * ty;
    const d3y = fy + pw * ty + pz * tx - px * tz;
    const d3z = fz + pw * tz + px * ty - py * tx;
    // Lever from here to the start, and the moment.
    const qlx = -(rx + ex + wx);
    const qly = -(ry + ey + wy);
    const qlz = -(rz + ez + wz);
    const mx = mx0 + qly * nz - qlz * ny;
    const my = my0 + qlz * nx - qlx * nz;
    const mz = mz0 + qlx * ny - qly * nx;
    const m1 = c1 * (d1x * mx + d1y * my + d1z * mz);
    const m3 = c3 * (d3x * mx + d3y * my + d3z * mz);
    const ox = c2 * mx + m1 * d1x + m3 * d3x;
    const oy = c2 * my + m1 * d1y + m3 * d3y;
    const oz = c2 * mz + m1 * d1z + m3 * d3z;
    const axial = d1x * nx + d1y * ny + d1z * nz;
    const ga = gamma * axial;
    // Rates of P and of w.
    const kw = -0.5 * (ox * px + oy * py + oz * pz);
    const kx = 0.5 * (ox * pw + oy * pz - oz * py);
    const ky = 0.5 * (oy * pw + oz * px - ox * pz);
    const kz = 0.5 * (oz * pw + ox * py - oy * px);
    const ux = bx + ga * d1x + shear * nx;
    const uy = by + ga * d1y + shear * ny;
    const uz = bz + ga * d1z + shear * nz;
    const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
    sw += weight * kw;
    sx += weight * kx;
    sy += weight * ky;
    sz += weight * kz;
    vx += weight * ux;
    vy += weight * uy;
    vz += weight * uz;
    const ahead = stage === 2 ? h : h / 2;
    pw = 1 + ahead * kw;
    px = ahead * kx;
    py = ahead * ky;
    pz = ahead * kz;
    wx = ahead * ux;
    wy = ahead * uy;
    wz = ahead * uz;
    // Linearised stage.
    const S = stages;
    const o = STAGE * stage;
    const C00 = c2 + c1 * d1x * d1x + c3 * d3x * d3x;
    const C01 = c1 * d1x * d1y + c3 * d3x * d3y;
    const C02 = c1 * d1x * d1z + c3 * d3x * d3z;
    const C11 = c2 + c1 * d1y * d1y + c3 * d3y * d3y;
    const C12 = c1 * d1y * d1z + c3 * d3y * d3z;
    const C22 = c2 + c1 * d1z * d1z + c3 * d3z * d3z;
    S[o] = C01 * mz - C02 * my;
    S[o + 1] = C11 * mz - C12 * my;
    S[o + 2] = C12 * mz - C22 * my;
    S[o + 3] = C02 * mx - C00 * mz;
    S[o + 4] = C12 * mx - C01 * mz;
    S[o + 5] = C22 * mx - C02 * mz;
    S[o + 6] = C00 * my - C01 * mx;
    S[o + 7] = C01 * my - C11 * mx;
    S[o + 8] = C02 * my - C12 * mx;
    S[o + 9] = C01 * nz - C02 * ny;
    S[o + 10] = C11 * nz - C12 * ny;
    S[o + 11] = C12 * nz - C22 * ny;
    S[o + 12] = C02 * nx - C00 * nz;
    S[o + 13] = C12 * nx - C01 * nz;
    S[o + 14] = C22 * nx - C02 * nz;
    S[o + 15] = C00 * ny - C01 * nx;
    S[o + 16] = C01 * ny - C11 * nx;
    S[o + 17] = C02 * ny - C12 * nx;
    const g1 = 1 + ga;
    const lx = gamma * (d1y * nz - d1z * ny);
    const ly = gamma * (d1z * nx - d1x * nz);
    const lz = gamma * (d1x * ny - d1y * nx);
    S[o + 18] = d1x * lx;
    S[o + 19] = d1y * lx - g1 * d1z;
    S[o + 20] = d1z * lx + g1 * d1y;
    S[o + 21] = d1x * ly + g1 * d1z;
    S[o + 22] = d1y * ly;
    S[o + 23] = d1z * ly - g1 * d1x;
    S[o + 24] = d1x * lz - g1 * d1y;
    S[o + 25] = d1y * lz + g1 * d1x;
    S[o + 26] = d1z * lz;
    S[o + 27] = C00;
    S[o + 28] = C01;
    S[o + 29] = C02;
    S[o + 30] = C01;
    S[o + 31] = C11;
    S[o + 32] = C12;
    S[o + 33] = C02;
    S[o + 34] = C12;
    S[o + 35] = C22;
    S[o + 36] = C01 * qlz - C02 * qly;
    S[o + 37] = C11 * qlz - C12 * qly;
    S[o + 38] = C12 * qlz - C22 * qly;
    S[o + 39] = C02 * qlx - C00 * qlz;
    S[o + 40] = C12 * qlx - C01 * qlz;
    S[o + 41] = C22 * qlx - C02 * qlz;
    S[o + 42] = C00 * qly - C01 * qlx;
    S[o + 43] = C01 * qly - C11 * qlx;
    S[o + 44] = C02 * qly - C12 * qlx;
    S[o + 45] = gamma * d1x * d1x + shear;
    S[o + 46] = gamma * d1x * d1y;
    S[o + 47] = gamma * d1x * d1z;
    S[o + 48] = S[o + 46];
    S[o + 49] = gamma * d1y * d1y + shear;
    S[o + 50] = gamma * d1y * d1z;
    S[o + 51] = S[o + 47];
    S[o + 52] = S[o + 50];
    S[o + 53] = gamma * d1z * d1z + shear;
  }
  // End of the step against the next node's stored pose.
  pw = 1 + sw;
  const size = 1 / Math.sqrt(pw * pw + sx * sx + sy * sy + sz * sz);
  const iw = pw * qw - sx * qx - sy * qy - sz * qz;
  const ix = pw * qx + sx * qw + sy * qz - sz * qy;
  const iy = pw * qy - sx * qz + sy * qw + sz * qx;
  const iz = pw * qz + sx * qy - sy * qx + sz * qw;
  const tw = mesh.turn[4 * i];
  const tx = mesh.turn[4 * i + 1];
  const ty = mesh.turn[4 * i + 2];
  const tz = mesh.turn[4 * i + 3];
  const aw = size * (iw * tw - ix * tx - iy * ty - iz * tz);
  const ax = size * (iw * tx + ix * tw + iy * tz - iz * ty);
  const ay = size * (iw * ty - ix * tz + iy * tw + iz * tx);
  const az = size * (iw * tz + ix * ty - iy * tx + iz * tw);
  const nw = rotation[4 * i + 4];
  const nqx = rotation[4 * i + 5];
  const nqy = rotation[4 * i + 6];
  const nqz = rotation[4 * i + 7];
  const dw = aw * nw + ax * nqx + ay * nqy + az * nqz;
  const dx = -aw * nqx + ax * nw - ay * nqz + az * nqy;
  const dy = -aw * nqy + ax * nqz + ay * nw - az * nqx;
  const dz = -aw * nqz - ax * nqy + ay * nqx + az * nw;
  const factor = rotationFactor(dw, dx * dx + dy * dy + dz * dz);
  const at = 6 * i + 6;
  defect[at] = factor * dx;
  defect[at + 1] = factor * dy;
  defect[at + 2] = factor * dz;
  defect[at + 3] = rx + ex + vx - position[3 * i + 3];
  defect[at + 4] = ry + ey + vy - position[3 * i + 4];
  defect[at + 5] = rz + ez + vz - position[3 * i + 5];
}

/** Rotation vector of a unit quaternion over its vector part, whose square is given. */
export function rotationFactor(w: number, square: number): number {
  if (square < 1e-4 && w > 0) return 2 + square * (1 / 3 + square * (3 / 20));
  const size = Math.sqrt(square);
  return w < 0 ? (-2 * Math.atan2(size, -w)) / size : (2 * Math.atan2(size, w)) / size;
}

/** Carries the seven columns of a node over a step by RK4 with the linearised stages. */
function propagate(columns: Float64Array, from: number, h: number): void {
  for (let c = 0; c < 3; c++) propagateColumn(columns, from + 6 * c, h, 27 + 3 * c, -1);
  for (let c = 0; c < 3; c++) propagateColumn(columns, from + 18 + 6 * c, h, 36 + 3 * c, 45 + 3 * c);
  propagateColumn(columns, from + 36, h, -1, -1);
}

/** `rotationForcing`, `displacementForcing`: where the column's forcing stands in a stage, -1 for none. */
function propagateColumn(
  columns: Float64Array,
  from: number,
  h: number,
  rotationForcing: number,
  displacementForcing: number,
): void {
  const S = stages;
  const a0 = columns[from];
  const a1 = columns[from + 1];
  const a2 = columns[from + 2];
  const b0 = columns[from + 3];
  const b1 = columns[from + 4];
  const b2 = columns[from + 5];
  let x0 = a0;
  let x1 = a1;
  let x2 = a2;
  let y0 = b0;
  let y1 = b1;
  let y2 = b2;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let z0 = 0;
  let z1 = 0;
  let z2 = 0;
  for (let stage = 0; stage < 4; stage++) {
    const o = STAGE * stage;
    let k0 = S[o] * x0 + S[o + 3] * x1 + S[o + 6] * x2 + S[o + 9] * y0 + S[o + 12] * y1 + S[o + 15] * y2;
    let k1 = S[o + 1] * x0 + S[o + 4] * x1 + S[o + 7] * x2 + S[o + 10] * y0 + S[o + 13] * y1 + S[o + 16] * y2;
    let k2 = S[o + 2] * x0 + S[o + 5] * x1 + S[o + 8] * x2 + S[o + 11] * y0 + S[o + 14] * y1 + S[o + 17] * y2;
    let l0 = S[o + 18] * x0 + S[o + 21] * x1 + S[o + 24] * x2;
    let l1 = S[o + 19] * x0 + S[o + 22] * x1 + S[o + 25] * x2;
    let l2 = S[o + 20] * x0 + S[o + 23] * x1 + S[o + 26] * x2;
    if (rotationForcing >= 0) {
      k0 += S[o + rotationForcing];
      k1 += S[o + rotationForcing + 1];
      k2 += S[o + rotationForcing + 2];
    }
    if (displacementForcing >= 0) {
      l0 += S[o + displacementForcing];
      l1 += S[o + displacementForcing + 1];
      l2 += S[o + displacementForcing + 2];
    }
    const weight = stage === 0 || stage === 3 ? h / 6 : h / 3;
    s0 += weight * k0;
    s1 += weight * k1;
    s2 += weight * k2;
    z0 += weight * l0;
    z1 += weight * l1;
    z2 += weight * l2;
    const ahead = stage === 2 ? h : h / 2;
    x0 = a0 + ahead * k0;
    x1 = a1 + ahead * k1;
    x2 = a2 + ahead * k2;
    y0 = b0 + ahead * l0;
    y1 = b1 + ahead * l1;
    y2 = b2 + ahead * l2;
  }
  const to = from + COLUMNS;
  columns[to] = a0 + s0;
  columns[to + 1] = a1 + s1;
  columns[to + 2] = a2 + s2;
  columns[to + 3] = b0 + z0;
  columns[to + 4] = b1 + z1;
  columns[to + 5] = b2 + z2;
}
