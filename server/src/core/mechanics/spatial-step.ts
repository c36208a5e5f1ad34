/** One step of a span in space: state and tangent (equations in integrate.ts). */
import { arrival, recordDefect } from './defect';
import { COLUMNS, type Span } from './span';

/**
 * Per stage, all by columns: θ' by θ (9), θ' by δ (9), δ' by θ (9), then the forcing: θ' by δm₀ (9), θ' by δn (9),
 * δ' by δn (9), three zeros, and δ' by δm₀ (9) of a bend.
 */
const STAGE = 66;
const BY_MOMENT = 27;
const BY_FORCE = 36;
const NOTHING = 54;
const BEND_BY_MOMENT = 57;
const stages = new Float64Array(3 * STAGE);
/** Whether the step last integrated is of a bend. */
let bendStages = false;

/** Integrates one step's state, leaving its defect in the span and, for a `tangent`, its linearised stages for `propagateSpatial`. */
export function integrateSpatial(span: Span, i: number, tangent: boolean): void {
  const { mesh, u, rotation, position } = span;
  const compliance = span.compliances[i];
  const force = span.segment[i];
  const h = mesh.h[i];
  const c2 = compliance.up;
  const c1 = compliance.twist - c2;
  const c3 = compliance.side - c2;
  const shear = compliance.shear;
  const { stretch, couple, curvatureUp, curvatureSide } = compliance;
  const gamma = stretch - shear;
  const bent = curvatureUp !== 0 || curvatureSide !== 0;
  bendStages = bent;
  const mx0 = u[force];
  const my0 = u[force + 1];
  const mz0 = u[force + 2];
  const nx = u[force + 3];
  const ny = u[force + 4];
  const nz = u[force + 5];
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
    let ox = c2 * mx + m1 * d1x + m3 * d3x;
    let oy = c2 * my + m1 * d1y + m3 * d3y;
    let oz = c2 * mz + m1 * d1z + m3 * d3z;
    const axial = d1x * nx + d1y * ny + d1z * nz;
    let ga = gamma * axial;
    let ux = bx + ga * d1x + shear * nx;
    let uy = by + ga * d1y + shear * ny;
    let uz = bz + ga * d1z + shear * nz;
    if (bent) {
      // The bend's curvature in space; its pull turns the sections, its moment stretches it, its torque shears it.
      const kappaX = curvatureSide * d3x + curvatureUp * (d3y * d1z - d3z * d1y);
      const kappaY = curvatureSide * d3y + curvatureUp * (d3z * d1x - d3x * d1z);
      const kappaZ = curvatureSide * d3z + curvatureUp * (d3x * d1y - d3y * d1x);
      const pull = couple * axial;
      const press = shear * (kappaX * nx + kappaY * ny + kappaZ * nz);
      ox += pull * kappaX - press * d1x;
      oy += pull * kappaY - press * d1y;
      oz += pull * kappaZ - press * d1z;
      const stretched = couple * (kappaX * mx + kappaY * my + kappaZ * mz);
      const sheared = shear * (d1x * mx + d1y * my + d1z * mz);
      ga += stretched;
      ux += stretched * d1x - sheared * kappaX;
      uy += stretched * d1y - sheared * kappaY;
      uz += stretched * d1z - sheared * kappaZ;
    }
    // Rates of P and of w.
    const kw = -0.5 * (ox * px + oy * py + oz * pz);
    const kx = 0.5 * (ox * pw + oy * pz - oz * py);
    const ky = 0.5 * (oy * pw + oz * px - ox * pz);
    const kz = 0.5 * (oz * pw + ox * py - oy * px);
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
    if (!tangent || stage === 1) continue;
    // Linearised stage: the columns use the start, the second middle and the end.
    const S = stages;
    const o = stage === 0 ? 0 : STAGE * (stage - 1);
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
    if (!bent) continue;
    const kappaX = curvatureSide * d3x + curvatureUp * (d3y * d1z - d3z * d1y);
    const kappaY = curvatureSide * d3y + curvatureUp * (d3z * d1x - d3x * d1z);
    const kappaZ = curvatureSide * d3z + curvatureUp * (d3x * d1y - d3y * d1x);
    const torsional = shear * (d1x * mx + d1y * my + d1z * mz);
    // θ' by δn and by θ with B, δ' by δm and by θ with Bᵀ: B = couple κ d1ᵀ - shear d1 κᵀ. δ' by δ, of the order of an axial
    // strain against θ' by δ, is left out.
    for (let r = 0; r < 3; r++) {
      const tangent = r === 0 ? d1x : r === 1 ? d1y : d1z;
      const curved = r === 0 ? kappaX : r === 1 ? kappaY : kappaZ;
      const a = couple * curved;
      const b = shear * tangent;
      const c = couple * tangent;
      const d = shear * curved;
      // Rows of B and of Bᵀ.
      const b0 = a * d1x - b * kappaX;
      const b1 = a * d1y - b * kappaY;
      const b2 = a * d1z - b * kappaZ;
      const t0 = c * kappaX - d * d1x;
      const t1 = c * kappaY - d * d1y;
      const t2 = c * kappaZ - d * d1z;
      S[o + r] += nz * b1 - ny * b2;
      S[o + 3 + r] += nx * b2 - nz * b0;
      S[o + 6 + r] += ny * b0 - nx * b1;
      S[o + BY_FORCE + r] += b0;
      S[o + BY_FORCE + 3 + r] += b1;
      S[o + BY_FORCE + 6 + r] += b2;
      S[o + 18 + r] += mz * t1 - my * t2;
      S[o + 21 + r] += mx * t2 - mz * t0;
      S[o + 24 + r] += my * t0 - mx * t1;
      S[o + BY_FORCE + 9 + r] += qlz * t1 - qly * t2;
      S[o + BY_FORCE + 12 + r] += qlx * t2 - qlz * t0;
      S[o + BY_FORCE + 15 + r] += qly * t0 - qlx * t1;
      S[o + BEND_BY_MOMENT + r] = t0;
      S[o + BEND_BY_MOMENT + 3 + r] = t1;
      S[o + BEND_BY_MOMENT + 6 + r] = t2;
    }
    // θ × of the shear along κ; that of the stretch stands with the others.
    S[o + 19] -= torsional * -kappaZ;
    S[o + 20] -= torsional * kappaY;
    S[o + 21] -= torsional * kappaZ;
    S[o + 23] -= torsional * -kappaX;
    S[o + 24] -= torsional * -kappaY;
    S[o + 25] -= torsional * kappaX;
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
  arrival[0] = size * (iw * tw - ix * tx - iy * ty - iz * tz);
  arrival[1] = size * (iw * tx + ix * tw + iy * tz - iz * ty);
  arrival[2] = size * (iw * ty - ix * tz + iy * tw + iz * tx);
  arrival[3] = size * (iw * tz + ix * ty - iy * tx + iz * tw);
  arrival[4] = rx + ex + vx;
  arrival[5] = ry + ey + vy;
  arrival[6] = rz + ez + vz;
  recordDefect(span, i + 1);
}

/** Carries the seven columns of a node over the step last integrated. */
export function propagateSpatial(columns: Float64Array, from: number, h: number): void {
  for (let c = 0; c < 3; c++) propagateColumn(columns, from + 6 * c, h, BY_MOMENT + 3 * c, shiftByMoment(c));
  for (let c = 0; c < 3; c++) propagateColumn(columns, from + 18 + 6 * c, h, BY_FORCE + 3 * c, BY_FORCE + 9 + 3 * c);
  propagateColumn(columns, from + 36, h, NOTHING, NOTHING);
}

/**
 * Over the step last integrated: the movement of its end by that of its start, and by the force that it bears, as two
 * row-major 6 × 6 matrices.
 */
export function transferSpatial(h: number, byMove: Float64Array, byForce: Float64Array): void {
  transferred.fill(0, 0, COLUMNS);
  for (let c = 0; c < 3; c++) propagateColumn(transferred, 6 * c, h, BY_MOMENT + 3 * c, shiftByMoment(c));
  for (let c = 0; c < 3; c++) propagateColumn(transferred, 18 + 6 * c, h, BY_FORCE + 3 * c, BY_FORCE + 9 + 3 * c);
  for (let c = 0; c < 6; c++) for (let r = 0; r < 6; r++) byForce[6 * r + c] = transferred[COLUMNS + 6 * c + r];
  for (let c = 0; c < 6; c++) {
    transferred[7 * c] = 1;
    propagateColumn(transferred, 6 * c, h, NOTHING, NOTHING);
    for (let r = 0; r < 6; r++) byMove[6 * r + c] = transferred[COLUMNS + 6 * c + r];
  }
}

function shiftByMoment(column: number): number {
  return bendStages ? BEND_BY_MOMENT + 3 * column : NOTHING;
}

const transferred = new Float64Array(2 * COLUMNS);

/**
 * One column by Kutta's third-order rule, written out: a tangent that is right to third order in the step leaves
 * Newton's method as fast as it is, and costs a quarter less. `…Forcing` is where the column's forcing stands.
 */
function propagateColumn(
  columns: Float64Array,
  from: number,
  h: number,
  rotationForcing: number,
  displacementForcing: number,
): void {
  const S = stages;
  const half = h / 2;
  const a0 = columns[from];
  const a1 = columns[from + 1];
  const a2 = columns[from + 2];
  const a3 = columns[from + 3];
  const a4 = columns[from + 4];
  const a5 = columns[from + 5];
  const k0 = S[0] * a0 + S[3] * a1 + S[6] * a2 + S[9] * a3 + S[12] * a4 + S[15] * a5 + S[rotationForcing];
  const k1 = S[1] * a0 + S[4] * a1 + S[7] * a2 + S[10] * a3 + S[13] * a4 + S[16] * a5 + S[rotationForcing + 1];
  const k2 = S[2] * a0 + S[5] * a1 + S[8] * a2 + S[11] * a3 + S[14] * a4 + S[17] * a5 + S[rotationForcing + 2];
  const k3 = S[18] * a0 + S[21] * a1 + S[24] * a2 + S[displacementForcing];
  const k4 = S[19] * a0 + S[22] * a1 + S[25] * a2 + S[displacementForcing + 1];
  const k5 = S[20] * a0 + S[23] * a1 + S[26] * a2 + S[displacementForcing + 2];
  const b0 = a0 + half * k0;
  const b1 = a1 + half * k1;
  const b2 = a2 + half * k2;
  const b3 = a3 + half * k3;
  const b4 = a4 + half * k4;
  const b5 = a5 + half * k5;
  const l0 = S[66] * b0 + S[69] * b1 + S[72] * b2 + S[75] * b3 + S[78] * b4 + S[81] * b5 + S[66 + rotationForcing];
  const l1 = S[67] * b0 + S[70] * b1 + S[73] * b2 + S[76] * b3 + S[79] * b4 + S[82] * b5 + S[66 + rotationForcing + 1];
  const l2 = S[68] * b0 + S[71] * b1 + S[74] * b2 + S[77] * b3 + S[80] * b4 + S[83] * b5 + S[66 + rotationForcing + 2];
  const l3 = S[84] * b0 + S[87] * b1 + S[90] * b2 + S[66 + displacementForcing];
  const l4 = S[85] * b0 + S[88] * b1 + S[91] * b2 + S[66 + displacementForcing + 1];
  const l5 = S[86] * b0 + S[89] * b1 + S[92] * b2 + S[66 + displacementForcing + 2];
  const c0 = a0 + h * (2 * l0 - k0);
  const c1 = a1 + h * (2 * l1 - k1);
  const c2 = a2 + h * (2 * l2 - k2);
  const c3 = a3 + h * (2 * l3 - k3);
  const c4 = a4 + h * (2 * l4 - k4);
  const c5 = a5 + h * (2 * l5 - k5);
  const m0 =
    S[132] * c0 + S[135] * c1 + S[138] * c2 + S[141] * c3 + S[144] * c4 + S[147] * c5 + S[132 + rotationForcing];
  const m1 =
    S[133] * c0 + S[136] * c1 + S[139] * c2 + S[142] * c3 + S[145] * c4 + S[148] * c5 + S[132 + rotationForcing + 1];
  const m2 =
    S[134] * c0 + S[137] * c1 + S[140] * c2 + S[143] * c3 + S[146] * c4 + S[149] * c5 + S[132 + rotationForcing + 2];
  const m3 = S[150] * c0 + S[153] * c1 + S[156] * c2 + S[132 + displacementForcing];
  const m4 = S[151] * c0 + S[154] * c1 + S[157] * c2 + S[132 + displacementForcing + 1];
  const m5 = S[152] * c0 + S[155] * c1 + S[158] * c2 + S[132 + displacementForcing + 2];
  const sixth = h / 6;
  const to = from + COLUMNS;
  columns[to] = a0 + sixth * (k0 + 4 * l0 + m0);
  columns[to + 1] = a1 + sixth * (k1 + 4 * l1 + m1);
  columns[to + 2] = a2 + sixth * (k2 + 4 * l2 + m2);
  columns[to + 3] = a3 + sixth * (k3 + 4 * l3 + m3);
  columns[to + 4] = a4 + sixth * (k4 + 4 * l4 + m4);
  columns[to + 5] = a5 + sixth * (k5 + 4 * l5 + m5);
}
