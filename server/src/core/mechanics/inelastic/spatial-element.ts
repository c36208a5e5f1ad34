/**
 * One step of an inelastic span in space: two-point Gauss collocation as in planar-element.ts, with three curvatures at each
 * Gauss point. Body curvatures k give the rotations Rⱼ = R exp(h Σ aⱼₗ kₗ) and, to fourth order, that at the step's end,
 * R exp(h/2 (k₁ + k₂) + √3/12 h² k₁ × k₂) (Iserles, Munthe-Kaas, Norsett and Zanna, Acta Numerica 2000;9:215-365,
 * from memory). Equilibrium of a section, seen from itself, is  Rⱼᵀ mⱼ = M(kⱼ - K Rⱼᵀ n, history),  and linearised
 *
 *   Dⱼ δkⱼ = Rⱼᵀ (δmⱼ + mⱼ × θⱼ) + Dⱼ K Rⱼᵀ (δn + n × θⱼ) + ρⱼ,   θⱼ = θ + R J(φⱼ) h Σ aⱼₗ δkₗ
 *
 * with J the derivative of the exponential: six equations for the step's six curvatures. K is what moment and force do to
 * each other in a bend (compliance.ts), 0 in straight wire; the moment shifts the sections by Kᵀ M per length. Of what yields,
 * as in a plane, the sections turn only.
 */
import { twistedAnswer } from '../../material/section-moments';
import { factorise } from '../../math/dense';
import type { Mat3 } from '../../math/vector';
import { arrival, recordDefect } from '../defect';
import { writeQuaternion } from '../mesh';
import {
  A11,
  A12,
  A21,
  A22,
  DRAWN_AT_END,
  DRAWN_AT_START,
  type InelasticSpan,
  twistedSectionAt,
  WIDTH,
} from './inelastic-span';
import {
  addCross,
  crossRows,
  exponential,
  multiplyInto,
  product,
  timesCross,
  timesInto,
  transposedInto,
} from './matrix3';

/** Integrates step i from its node; with a `tangent`, prepares `propagateSpatialElement`. */
export function integrateSpatialElement(of: InelasticSpan, i: number, tangent: boolean, cut: boolean): void {
  const { span, curvature: k } = of;
  const { mesh, position } = span;
  const u = of.forces[i];
  const section = of.twisted?.[i];
  if (!section) throw new Error('a span in space has sections that can be twisted');
  const h = mesh.h[i];
  const { shear, stretch, curvatureUp, curvatureSide } = span.compliances[i];
  const gamma = stretch - shear;
  bent = curvatureUp !== 0 || curvatureSide !== 0;
  startFrame(of, i);
  for (let j = 0; j < 2; j++) {
    const a = WEIGHTS[2 * j];
    const b = WEIGHTS[2 * j + 1];
    for (let c = 0; c < 3; c++) phi[3 * j + c] = h * (a * k[6 * i + c] + b * k[6 * i + 3 + c]);
    exponential(phi, 3 * j, E, J);
    multiplyInto(R, 9 + 9 * j, R, 0, E, 0);
    if (tangent) multiplyInto(B, 9 * j, R, 0, J, 0);
    const o = 9 + 9 * j;
    const x = R[o];
    const y = R[o + 3];
    const z = R[o + 6];
    const pull = x * u[3] + y * u[4] + z * u[5];
    const g = gamma * pull;
    v[3 * j] = x * (1 + g) + shear * u[3];
    v[3 * j + 1] = y * (1 + g) + shear * u[4];
    v[3 * j + 2] = z * (1 + g) + shear * u[5];
    if (bent) coupleCurvature(of, i, j, pull);
    twistedSectionAt(of, section, 2 * i + j, answer);
    if (bent) shiftByMoment(j);
    moments[3 * j] = answer.torque;
    moments[3 * j + 1] = answer.momentUp;
    moments[3 * j + 2] = answer.momentSide;
    if (!tangent) continue;
    const d = 9 * j;
    D[d] = answer.twistTwist;
    D[d + 1] = D[d + 3] = answer.twistUp;
    D[d + 2] = D[d + 6] = answer.twistSide;
    D[d + 4] = answer.upUp;
    D[d + 5] = D[d + 7] = answer.upSide;
    D[d + 8] = answer.sideSide;
    // dvⱼ = W θⱼ + G dn + Hⱼ dkⱼ
    const w = 9 * j;
    const lx = gamma * (y * u[5] - z * u[4]);
    const ly = gamma * (z * u[3] - x * u[5]);
    const lz = gamma * (x * u[4] - y * u[3]);
    W[w] = x * lx;
    W[w + 1] = x * ly + (1 + g) * z;
    W[w + 2] = x * lz - (1 + g) * y;
    W[w + 3] = y * lx - (1 + g) * z;
    W[w + 4] = y * ly;
    W[w + 5] = y * lz + (1 + g) * x;
    W[w + 6] = z * lx + (1 + g) * y;
    W[w + 7] = z * ly - (1 + g) * x;
    W[w + 8] = z * lz;
    G[w] = gamma * x * x + shear;
    G[w + 1] = G[w + 3] = gamma * x * y;
    G[w + 2] = G[w + 6] = gamma * x * z;
    G[w + 4] = gamma * y * y + shear;
    G[w + 5] = G[w + 7] = gamma * y * z;
    G[w + 8] = gamma * z * z + shear;
    if (bent) coupleTangent(u, j);
  }
  endRotation(k, i, h);
  for (let c = 0; c < 3; c++) arrival[4 + c] = position[3 * i + c] + (h / 2) * (v[c] + v[3 + c]);
  recordDefect(span, i + 1);
  for (let j = 0; j < 2; j++) {
    const first = WEIGHTS[2 * j];
    const second = WEIGHTS[2 * j + 1];
    for (let c = 0; c < 3; c++) r[3 * j + c] = position[3 * i + c] + h * (first * v[c] + second * v[3 + c]);
    const x = r[3 * j];
    const y = r[3 * j + 1];
    const z = r[3 * j + 2];
    m[3 * j] = u[0] - y * u[5] + z * u[4];
    m[3 * j + 1] = u[1] - z * u[3] + x * u[5];
    m[3 * j + 2] = u[2] - x * u[4] + y * u[3];
    const o = 9 + 9 * j;
    for (let c = 0; c < 3; c++) {
      missing[3 * j + c] =
        R[o + c] * m[3 * j] + R[o + 3 + c] * m[3 * j + 1] + R[o + 6 + c] * m[3 * j + 2] - moments[3 * j + c];
      if (h > 0) of.unbalanced = Math.max(of.unbalanced, Math.abs(missing[3 * j + c]));
    }
  }
  if (tangent) linearise(of, i, h, cut);
}

const WEIGHTS = [A11, A12, A21, A22];
/** Rotations as 3 × 3 row-major matrices: at the start, at both Gauss points. */
const R = new Float64Array(27);
const phi = new Float64Array(6);
const E = new Float64Array(9);
const J = new Float64Array(9);
/** R J, dv by θ and by n, at both Gauss points. */
const B = new Float64Array(18);
const W = new Float64Array(18);
const G = new Float64Array(18);
/** dr/ds, places, moments, moments missing and section stiffness there. */
const v = new Float64Array(6);
const r = new Float64Array(6);
const m = new Float64Array(6);
const missing = new Float64Array(6);
const moments = new Float64Array(6);
const D = new Float64Array(18);
const answer = twistedAnswer();
/** The step is of a bend: K Rᵀ, D K Rᵀ and its transpose H at both Gauss points. */
let bent = false;
const KR = new Float64Array(18);
const P = new Float64Array(18);
const H = new Float64Array(18);
const frame = new Float64Array(4);
const corner = new Float64Array(4);

/** K Rᵀ of a bend, and what it adds to the curvature, K Rᵀ n. */
function coupleCurvature({ span, forces, coupled }: InelasticSpan, i: number, j: number, pull: number): void {
  const u = forces[i];
  const { shear, couple, curvatureUp, curvatureSide } = span.compliances[i];
  const o = 9 + 9 * j;
  const q = 9 * j;
  for (let c = 0; c < 3; c++) {
    KR[q + c] = -shear * (curvatureUp * R[o + 3 * c + 1] + curvatureSide * R[o + 3 * c + 2]);
    KR[q + 3 + c] = couple * curvatureUp * R[o + 3 * c];
    KR[q + 6 + c] = couple * curvatureSide * R[o + 3 * c];
  }
  const to = 6 * i + 3 * j;
  coupled[to] = KR[q] * u[3] + KR[q + 1] * u[4] + KR[q + 2] * u[5];
  coupled[to + 1] = couple * curvatureUp * pull;
  coupled[to + 2] = couple * curvatureSide * pull;
}

/** Adds (K Rᵀ)ᵀ M to `v` and keeps it. */
function shiftByMoment(j: number): void {
  const { torque, momentUp, momentSide } = answer;
  const q = 9 * j;
  for (let c = 0; c < 3; c++) {
    shifted[c] = KR[q + c] * torque + KR[q + 3 + c] * momentUp + KR[q + 6 + c] * momentSide;
    v[3 * j + c] += shifted[c];
  }
}

const shifted = new Float64Array(3);

/** What a bend adds to W and G, and its H. */
function coupleTangent(u: Float64Array, j: number): void {
  const q = 9 * j;
  multiplyInto(P, q, D, q, KR, q);
  for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) H[q + 3 * a + b] = P[q + 3 * b + a];
  // H K Rᵀ: moves by n, turned by n × θ; what the moment shifts turns along.
  multiplyInto(part, 0, H, q, KR, q);
  for (let c = 0; c < 9; c++) G[q + c] -= part[c];
  timesCross(part, u, 3);
  addCross(part, shifted, 0, 1);
  for (let c = 0; c < 9; c++) W[q + c] -= part[c];
}

/** The frame behind the corner at the step's start: `R` and `frame`. */
function startFrame({ span }: InelasticSpan, i: number): void {
  const { rotation, mesh } = span;
  const { axes } = mesh;
  const a = 18 * i;
  const w = rotation[4 * i];
  const x = rotation[4 * i + 1];
  const y = rotation[4 * i + 2];
  const z = rotation[4 * i + 3];
  if (axes[a] === 1 && axes[a + 5] === 1) {
    frame[0] = w;
    frame[1] = x;
    frame[2] = y;
    frame[3] = z;
  } else {
    const [p, q, s, d, e, f] = axes.subarray(a, a + 6);
    const turn: Mat3 = [p, e * s - f * q, d, q, f * p - d * s, e, s, d * q - e * p, f];
    writeQuaternion(corner, 0, turn);
    product(frame, w, x, y, z, corner[0], corner[1], corner[2], corner[3]);
  }
  const fw = frame[0];
  const fx = frame[1];
  const fy = frame[2];
  const fz = frame[3];
  R[0] = 1 - 2 * (fy * fy + fz * fz);
  R[1] = 2 * (fx * fy - fw * fz);
  R[2] = 2 * (fx * fz + fw * fy);
  R[3] = 2 * (fx * fy + fw * fz);
  R[4] = 1 - 2 * (fx * fx + fz * fz);
  R[5] = 2 * (fy * fz - fw * fx);
  R[6] = 2 * (fx * fz - fw * fy);
  R[7] = 2 * (fy * fz + fw * fx);
  R[8] = 1 - 2 * (fx * fx + fy * fy);
}

/** Ω of the whole step, and the rotation in which it arrives. */
function endRotation(k: Float64Array, i: number, h: number): void {
  const o = 6 * i;
  const c = COMMUTATOR * h * h;
  omega[0] = (h / 2) * (k[o] + k[o + 3]) + c * (k[o + 1] * k[o + 5] - k[o + 2] * k[o + 4]);
  omega[1] = (h / 2) * (k[o + 1] + k[o + 4]) + c * (k[o + 2] * k[o + 3] - k[o] * k[o + 5]);
  omega[2] = (h / 2) * (k[o + 2] + k[o + 5]) + c * (k[o] * k[o + 4] - k[o + 1] * k[o + 3]);
  const angle = Math.sqrt(omega[0] ** 2 + omega[1] ** 2 + omega[2] ** 2);
  const sine = angle < 1e-6 ? 0.5 : Math.sin(angle / 2) / angle;
  const w = Math.cos(angle / 2);
  product(arrival, frame[0], frame[1], frame[2], frame[3], w, sine * omega[0], sine * omega[1], sine * omega[2]);
}

const COMMUTATOR = Math.sqrt(3) / 12;
const omega = new Float64Array(3);

/** Fills the step's equations and their coefficients. */
function linearise(of: InelasticSpan, i: number, h: number, cut: boolean): void {
  const u = of.forces[i];
  const k = of.curvature;
  for (let l = 0; l < 2; l++) multiplyInto(WB, 9 * l, W, 9 * l, B, 9 * l);
  for (let j = 0; j < 2; j++) {
    const o = 9 + 9 * j;
    const aj1 = WEIGHTS[2 * j];
    const aj2 = WEIGHTS[2 * j + 1];
    // By θ: n × h Σ aⱼₗ Wₗ + mⱼ ×; by n: n × h Σ aⱼₗ Gₗ - rⱼ ×.
    for (let c = 0; c < 9; c++) part[c] = h * (aj1 * W[c] + aj2 * W[9 + c]);
    crossRows(part, u, 3);
    addCross(part, m, 3 * j, 1);
    transposedInto(byTurn, 9 * j, R, o, part);
    if (bent) {
      for (let c = 0; c < 9; c++) part[c] = P[9 * j + c];
      timesCross(part, u, 3);
      for (let c = 0; c < 9; c++) byTurn[9 * j + c] += part[c];
    }
    for (let c = 0; c < 9; c++) part[c] = h * (aj1 * G[c] + aj2 * G[9 + c]);
    crossRows(part, u, 3);
    addCross(part, r, 3 * j, -1);
    transposedInto(byForce, 9 * j, R, o, part);
    if (bent) for (let c = 0; c < 9; c++) byForce[9 * j + c] += P[9 * j + c];
    part.fill(0);
    addCross(part, u, 3, 1);
    transposedInto(byShift, 9 * j, R, o, part);
    for (let q = 0; q < 2; q++) {
      const f1 = h * h * aj1 * WEIGHTS[q];
      const f2 = h * h * aj2 * WEIGHTS[2 + q];
      const own = h * WEIGHTS[2 * j + q];
      for (let c = 0; c < 9; c++) part[c] = f1 * WB[c] + f2 * WB[9 + c];
      if (bent) for (let c = 0; c < 9; c++) part[c] += own * H[9 * q + c];
      crossRows(part, u, 3);
      for (let c = 0; c < 3; c++) {
        const x = B[9 * j + c];
        const y = B[9 * j + 3 + c];
        const z = B[9 * j + 6 + c];
        part[c] += own * (m[3 * j + 1] * z - m[3 * j + 2] * y);
        part[3 + c] += own * (m[3 * j + 2] * x - m[3 * j] * z);
        part[6 + c] += own * (m[3 * j] * y - m[3 * j + 1] * x);
      }
      transposedInto(block, 0, R, o, part);
      if (bent) {
        for (let c = 0; c < 9; c++) part[c] = own * B[9 * j + c];
        crossRows(part, u, 3);
        multiplyInto(turned, 0, P, 9 * j, part, 0);
        for (let c = 0; c < 9; c++) block[c] += turned[c];
      }
      for (let a = 0; a < 3; a++) {
        for (let b = 0; b < 3; b++) matrix[6 * (3 * j + a) + 3 * q + b] = -block[3 * a + b];
      }
    }
    for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) matrix[21 * j + 6 * a + b] += D[9 * j + 3 * a + b];
  }
  singular = factorise(matrix, 6, pivots) === 0;
  if (cut) lineariseCut(of, i, h);
  orderRows(cut);
  // What changes at the step's end.
  exponential(omega, 0, E, J);
  multiplyInto(part, 0, R, 0, J, 0);
  const o = 6 * i;
  for (let q = 0; q < 2; q++) {
    block.fill(0);
    block[0] = block[4] = block[8] = h / 2;
    addCross(block, k, o + 3 - 3 * q, (q === 0 ? -1 : 1) * COMMUTATOR * h * h);
    multiplyInto(turnBy, 9 * q, part, 0, block, 0);
    const f1 = (h * h * WEIGHTS[q]) / 2;
    const f2 = (h * h * WEIGHTS[2 + q]) / 2;
    for (let c = 0; c < 9; c++) shiftBy[9 * q + c] = f1 * WB[c] + f2 * WB[9 + c];
    if (bent) for (let c = 0; c < 9; c++) shiftBy[9 * q + c] += (h / 2) * H[9 * q + c];
  }
  for (let c = 0; c < 9; c++) {
    shiftByTurn[c] = (h / 2) * (W[c] + W[9 + c]);
    shiftByForce[c] = (h / 2) * (G[c] + G[9 + c]);
  }
}

/** The right sides in the order of the factors' rows. */
function orderRows(cut: boolean): void {
  for (let r = 0; r < 6; r++) order[r] = r;
  for (let r = 0; r < 6; r++) {
    const swap = order[r];
    order[r] = order[pivots[r]];
    order[pivots[r]] = swap;
  }
  for (let r = 0; r < 6; r++) {
    const row = order[r];
    const o = 3 * row;
    const own = row < 3 ? 9 + row : 15 + row;
    for (let c = 0; c < 3; c++) {
      byNode[6 * r + c] = byTurn[o + c];
      byNode[6 * r + 3 + c] = byShift[o + c];
      forcing[6 * c + r] = R[own + 3 * c];
      forcing[18 + 6 * c + r] = byForce[o + c];
    }
    forcing[36 + r] = missing[row];
    if (cut) forcing[6 * BY_CUT + r] = cutForcing[row];
  }
}

const order = new Int32Array(6);
/** Per row, what θ and δ of the node add; per column of forcing, its six rows. */
const byNode = new Float64Array(36);
const forcing = new Float64Array(54);
/** Its columns of the cut, and of no forcing. */
const BY_CUT = 7;
const UNFORCED = 8;

/** The slot's edge shortens this step: what changes at its end and in its equations, per mm, at given curvatures. */
function lineariseCut(of: InelasticSpan, i: number, h: number): void {
  const u = of.forces[i];
  const k = of.curvature;
  // The arm is straight wire, bent by less than matters in a derivative: turns add up.
  for (let j = 0; j < 2; j++) {
    for (let c = 0; c < 3; c++) {
      vector[c] = -(WEIGHTS[2 * j] * k[6 * i + c] + WEIGHTS[2 * j + 1] * k[6 * i + 3 + c]);
    }
    timesInto(cutTurn, 3 * j, B, 9 * j, vector);
    for (let c = 0; c < 3; c++) vector[c] = cutTurn[3 * j + c];
    timesInto(cutShift, 3 * j, W, 9 * j, vector);
    for (let c = 0; c < 3; c++) cutShift[3 * j + c] = h * cutShift[3 * j + c] - v[3 * j + c];
  }
  for (let j = 0; j < 2; j++) {
    const [a, b] = [WEIGHTS[2 * j], WEIGHTS[2 * j + 1]];
    const [x, y, z] = [0, 1, 2].map((c) => a * cutShift[c] + b * cutShift[3 + c]);
    const [p, q, s] = [cutTurn[3 * j], cutTurn[3 * j + 1], cutTurn[3 * j + 2]];
    const [mx, my, mz] = [m[3 * j], m[3 * j + 1], m[3 * j + 2]];
    const outer = [
      u[4] * z - u[5] * y + my * s - mz * q,
      u[5] * x - u[3] * z + mz * p - mx * s,
      u[3] * y - u[4] * x + mx * q - my * p,
    ];
    const o = 9 + 9 * j;
    for (let c = 0; c < 3; c++) {
      cutForcing[3 * j + c] = R[o + c] * outer[0] + R[o + 3 + c] * outer[1] + R[o + 6 + c] * outer[2];
    }
  }
  for (let c = 0; c < 3; c++) vector[c] = -0.5 * (k[6 * i + c] + k[6 * i + 3 + c]);
  timesInto(cutEnd, 0, R, 0, vector);
  for (let c = 0; c < 3; c++) cutEnd[3 + c] = 0.5 * (cutShift[c] + cutShift[3 + c]);
}

const WB = new Float64Array(18);
const part = new Float64Array(9);
const block = new Float64Array(9);
const turned = new Float64Array(9);
const byTurn = new Float64Array(18);
const byShift = new Float64Array(18);
const byForce = new Float64Array(18);
const matrix = new Float64Array(36);
const pivots = new Int32Array(6);
let singular = false;
const turnBy = new Float64Array(18);
const shiftBy = new Float64Array(18);
const shiftByTurn = new Float64Array(9);
const shiftByForce = new Float64Array(9);
const vector = new Float64Array(3);
const cutTurn = new Float64Array(6);
const cutShift = new Float64Array(6);
const cutForcing = new Float64Array(6);
const cutEnd = new Float64Array(6);

/**
 * Carries the columns of node i over the step last integrated; false where its equations are singular. `cut`: the column of the
 * wire that is drawn out of it.
 */
export function propagateSpatialElement(of: InelasticSpan, i: number, cut: number): boolean {
  if (singular) return false;
  for (let c = 0; c < 7; c++) carry(of, i, 6 * c, c);
  if (of.arms.start.steps > 0) carry(of, i, DRAWN_AT_START, cut === DRAWN_AT_START ? BY_CUT : UNFORCED);
  if (of.arms.end.steps > 0) carry(of, i, DRAWN_AT_END, cut === DRAWN_AT_END ? BY_CUT : UNFORCED);
  const { columns } = of;
  const to = WIDTH * (i + 1);
  for (let c = 0; c < 3; c++) {
    for (let a = 0; a < 3; a++) columns[to + 18 + 6 * c + 3 + a] += shiftByForce[3 * a + c];
  }
  if (cut > 0) for (let a = 0; a < 6; a++) columns[to + cut + a] += cutEnd[a];
  return true;
}

type Columns = Pick<InelasticSpan, 'columns' | 'curvatureColumns'>;

/**
 * How the step last integrated moves its end and changes its curvatures: by the movement of its node (36 numbers each,
 * row-major), by u, and by itself (6 each); false where its equations are singular.
 */
export function transferSpatialElement(moves: Transfer, forces: Transfer, own: Transfer): boolean {
  if (singular) return false;
  const { columns, curvatureColumns } = single;
  for (const [into, ofNode] of [
    [moves, true],
    [forces, false],
  ] as const) {
    columns.fill(0);
    for (let c = 0; c < 6; c++) {
      if (ofNode) columns[7 * c] = 1;
      carry(single, 0, 6 * c, ofNode ? UNFORCED : c);
      for (let r = 0; r < 6; r++) {
        const direct = !ofNode && c >= 3 && r >= 3 ? shiftByForce[3 * (r - 3) + c - 3] : 0;
        into.end[6 * r + c] = columns[WIDTH + 6 * c + r] + direct;
        into.curvature[6 * r + c] = curvatureColumns[6 * c + r];
      }
    }
  }
  columns.fill(0);
  carry(single, 0, 36, 6);
  for (let r = 0; r < 6; r++) {
    own.end[r] = columns[WIDTH + 36 + r];
    own.curvature[r] = curvatureColumns[36 + r];
  }
  return true;
}

export interface Transfer {
  readonly end: Float64Array;
  readonly curvature: Float64Array;
}

const single: Columns = { columns: new Float64Array(2 * WIDTH), curvatureColumns: new Float64Array(WIDTH) };

function carry({ columns, curvatureColumns }: Columns, i: number, column: number, by: number): void {
  const from = WIDTH * i + column;
  const to = from + WIDTH;
  const t0 = columns[from];
  const t1 = columns[from + 1];
  const t2 = columns[from + 2];
  const x0 = columns[from + 3];
  const x1 = columns[from + 4];
  const x2 = columns[from + 5];
  for (let r = 0; r < 6; r++) {
    const o = 6 * r;
    bends[r] =
      byNode[o] * t0 +
      byNode[o + 1] * t1 +
      byNode[o + 2] * t2 +
      byNode[o + 3] * x0 +
      byNode[o + 4] * x1 +
      byNode[o + 5] * x2 +
      forcing[6 * by + r];
  }
  const A = matrix;
  const b0 = bends[0];
  const b1 = bends[1] - A[6] * b0;
  const b2 = bends[2] - A[12] * b0 - A[13] * b1;
  const b3 = bends[3] - A[18] * b0 - A[19] * b1 - A[20] * b2;
  const b4 = bends[4] - A[24] * b0 - A[25] * b1 - A[26] * b2 - A[27] * b3;
  const b5 = bends[5] - A[30] * b0 - A[31] * b1 - A[32] * b2 - A[33] * b3 - A[34] * b4;
  const k5 = b5 / A[35];
  const k4 = (b4 - A[29] * k5) / A[28];
  const k3 = (b3 - A[22] * k4 - A[23] * k5) / A[21];
  const k2 = (b2 - A[15] * k3 - A[16] * k4 - A[17] * k5) / A[14];
  const k1 = (b1 - A[8] * k2 - A[9] * k3 - A[10] * k4 - A[11] * k5) / A[7];
  const k0 = (b0 - A[1] * k1 - A[2] * k2 - A[3] * k3 - A[4] * k4 - A[5] * k5) / A[0];
  for (let a = 0; a < 3; a++) {
    const o = 3 * a;
    columns[to + a] =
      columns[from + a] +
      turnBy[o] * k0 +
      turnBy[o + 1] * k1 +
      turnBy[o + 2] * k2 +
      turnBy[9 + o] * k3 +
      turnBy[10 + o] * k4 +
      turnBy[11 + o] * k5;
    columns[to + 3 + a] =
      columns[from + 3 + a] +
      shiftByTurn[o] * t0 +
      shiftByTurn[o + 1] * t1 +
      shiftByTurn[o + 2] * t2 +
      shiftBy[o] * k0 +
      shiftBy[o + 1] * k1 +
      shiftBy[o + 2] * k2 +
      shiftBy[9 + o] * k3 +
      shiftBy[10 + o] * k4 +
      shiftBy[11 + o] * k5;
  }
  curvatureColumns[from] = k0;
  curvatureColumns[from + 1] = k1;
  curvatureColumns[from + 2] = k2;
  curvatureColumns[from + 3] = k3;
  curvatureColumns[from + 4] = k4;
  curvatureColumns[from + 5] = k5;
}

const bends = new Float64Array(6);
