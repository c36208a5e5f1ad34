/**
 * One step of an inelastic span in its tangent-up plane: two-point Gauss collocation with the curvatures at the Gauss points
 * as unknowns (solver notes 3.5; collocation: Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I,
 * II.7, from memory). Given its two curvatures k a step's geometry is explicit,
 *
 *   φⱼ = h Σ aⱼₗ kₗ,  vⱼ = d(φⱼ) + n/GA + γ d (d·n) + c d Mⱼ,  rⱼ = r + h Σ aⱼₗ vₗ,  r₊ = r + h/2 (v₁ + v₂),
 *
 * and equilibrium asks of each section  mⱼ = m₀ - rⱼ × n = Mⱼ = M(kⱼ - c (dⱼ·n), history): in a bend of curvature κ a pull turns
 * the sections and their moment stretches it, c = κ (1 + ν)/EA (compliance.ts). What has yielded turns sections only: fibres strain as if the
 * bend were straight, which leaves out, of the share h/R, that the inner ones yield first. Its linearised form, two
 * equations for two unknowns, gives the change of k by the change of the node before and of u, so that the
 * columns go through as in integrate.ts.
 */
import { sectionAnswer } from '../../material/section-moments';
import { arrival, recordDefect } from '../defect';
import {
  A11,
  A12,
  A21,
  A22,
  DRAWN_AT_END,
  DRAWN_AT_START,
  type InelasticSpan,
  sectionAt,
  WIDTH,
} from './inelastic-span';

/** Integrates step i from its node; with a `tangent`, prepares `propagatePlanarElement`. */
export function integratePlanarElement(of: InelasticSpan, i: number, tangent: boolean, cut: boolean): void {
  const { span, curvature } = of;
  const { mesh, rotation, position } = span;
  const u = of.forces[i];
  const h = mesh.h[i];
  const nx = u[3];
  const ny = u[4];
  const { shear, stretch, couple, curvatureSide } = span.compliances[i];
  const gamma = stretch - shear;
  const bend = couple * curvatureSide;
  const qw = rotation[4 * i];
  const qz = rotation[4 * i + 3];
  const R00 = 1 - 2 * qz * qz;
  const R10 = 2 * qw * qz;
  // The node's tangent behind the corner at the step's start.
  const cx = mesh.axes[18 * i];
  const cy = mesh.axes[18 * i + 1];
  const tx = R00 * cx - R10 * cy;
  const ty = R10 * cx + R00 * cy;
  const rx = position[3 * i];
  const ry = position[3 * i + 1];
  const k1 = curvature[6 * i + 2];
  const k2 = curvature[6 * i + 5];
  const f1 = h * (A11 * k1 + A12 * k2);
  const f2 = h * (A21 * k1 + A22 * k2);
  const c1 = Math.cos(f1);
  const s1 = Math.sin(f1);
  const c2 = Math.cos(f2);
  const s2 = Math.sin(f2);
  const d1x = tx * c1 - ty * s1;
  const d1y = ty * c1 + tx * s1;
  const d2x = tx * c2 - ty * s2;
  const d2y = ty * c2 + tx * s2;
  const pull1 = d1x * nx + d1y * ny;
  const pull2 = d2x * nx + d2y * ny;
  of.coupled[6 * i + 2] = bend * pull1;
  of.coupled[6 * i + 5] = bend * pull2;
  sectionAt(of, 2 * i, answer);
  const D1 = answer.sideSide;
  const M1 = answer.momentSide;
  sectionAt(of, 2 * i + 1, answer);
  const D2 = answer.sideSide;
  const M2 = answer.momentSide;
  const g1 = gamma * pull1 + bend * M1;
  const g2 = gamma * pull2 + bend * M2;
  const v1x = d1x * (1 + g1) + shear * nx;
  const v1y = d1y * (1 + g1) + shear * ny;
  const v2x = d2x * (1 + g2) + shear * nx;
  const v2y = d2y * (1 + g2) + shear * ny;
  const turn = (h / 2) * (k1 + k2);
  const half = turn / 2;
  const ch = Math.cos(half);
  const sh = Math.sin(half);
  // Half angle of the corner, from its cosine and sine.
  const kw = Math.sqrt(Math.max(0, (1 + cx) / 2));
  const kz = kw > 1e-8 ? cy / (2 * kw) : 1;
  const bw = qw * kw - qz * kz;
  const bz = qw * kz + qz * kw;
  arrival[0] = bw * ch - bz * sh;
  arrival[1] = arrival[2] = 0;
  arrival[3] = bw * sh + bz * ch;
  arrival[4] = rx + (h / 2) * (v1x + v2x);
  arrival[5] = ry + (h / 2) * (v1y + v2y);
  arrival[6] = 0;
  recordDefect(span, i + 1);
  const r1x = rx + h * (A11 * v1x + A12 * v2x);
  const r1y = ry + h * (A11 * v1y + A12 * v2y);
  const r2x = rx + h * (A21 * v1x + A22 * v2x);
  const r2y = ry + h * (A21 * v1y + A22 * v2y);
  const p1 = u[2] - r1x * ny + r1y * nx - M1;
  const p2 = u[2] - r2x * ny + r2y * nx - M2;
  if (h > 0) of.unbalanced = Math.max(of.unbalanced, Math.abs(p1), Math.abs(p2));
  if (!tangent) return;

  // dvⱼ = wⱼ dθⱼ + Gⱼ dn + eⱼ dⱼ dkⱼ
  const c1n = d1x * ny - d1y * nx;
  const c2n = d2x * ny - d2y * nx;
  const e1 = bend * D1;
  const e2 = bend * D2;
  const gamma1 = gamma - bend * e1;
  const gamma2 = gamma - bend * e2;
  const l1 = gamma1 * c1n;
  const l2 = gamma2 * c2n;
  const w1x = d1x * l1 - (1 + g1) * d1y;
  const w1y = d1y * l1 + (1 + g1) * d1x;
  const w2x = d2x * l2 - (1 + g2) * d2y;
  const w2y = d2y * l2 + (1 + g2) * d2x;
  const G1xx = gamma1 * d1x * d1x + shear;
  const G1xy = gamma1 * d1x * d1y;
  const G1yy = gamma1 * d1y * d1y + shear;
  const G2xx = gamma2 * d2x * d2x + shear;
  const G2xy = gamma2 * d2x * d2y;
  const G2yy = gamma2 * d2y * d2y + shear;
  // Moment by dvₗ: -(dv × n).
  const q1 = w1y * nx - w1x * ny;
  const q2 = w2y * nx - w2x * ny;
  const b1 = e1 * c1n;
  const b2 = e2 * c2n;
  const a11 = D1 - h * h * (A11 * A11 * q1 + A12 * A21 * q2);
  const a12 = h * A12 * (b2 - b1) - h * h * (A11 * A12 * q1 + A12 * A22 * q2);
  const a21 = h * A21 * (b1 - b2) - h * h * (A21 * A11 * q1 + A22 * A21 * q2);
  const a22 = D2 - h * h * (A21 * A12 * q1 + A22 * A22 * q2);
  const determinant = a11 * a22 - a12 * a21;
  const b11 = a22 / determinant;
  const b12 = -a12 / determinant;
  const b21 = -a21 / determinant;
  const b22 = a11 / determinant;
  const hx1 = G1xy * nx - G1xx * ny;
  const hx2 = G2xy * nx - G2xx * ny;
  const hy1 = G1yy * nx - G1xy * ny;
  const hy2 = G2yy * nx - G2xy * ny;
  const K = coefficients;
  K[0] = h * (A11 * q1 + A12 * q2) + b1;
  K[1] = h * (A21 * q1 + A22 * q2) + b2;
  K[2] = K[3] = -ny;
  K[4] = K[5] = nx;
  K[6] = K[7] = 1;
  K[8] = r1y + h * (A11 * hx1 + A12 * hx2) + e1 * d1x;
  K[9] = r2y + h * (A21 * hx1 + A22 * hx2) + e2 * d2x;
  K[10] = e1 * d1y - r1x + h * (A11 * hy1 + A12 * hy2);
  K[11] = e2 * d2y - r2x + h * (A21 * hy1 + A22 * hy2);
  K[12] = p1;
  K[13] = p2;
  const S = stage;
  S[0] = h;
  S[1] = (h / 2) * (w1x + w2x);
  S[2] = (h / 2) * (w1y + w2y);
  S[3] = (h / 2) * (h * (w1x * A11 + w2x * A21) + e1 * d1x);
  S[4] = (h / 2) * (h * (w1y * A11 + w2y * A21) + e1 * d1y);
  S[5] = (h / 2) * (h * (w1x * A12 + w2x * A22) + e2 * d2x);
  S[6] = (h / 2) * (h * (w1y * A12 + w2y * A22) + e2 * d2y);
  S[7] = (h / 2) * (G1xx + G2xx);
  S[8] = (h / 2) * (G1xy + G2xy);
  S[9] = (h / 2) * (G1yy + G2yy);
  if (cut) {
    // The slot's edge shortens this step: what changes at its end and its sections, per mm, at given curvatures.
    const t1 = -(A11 * k1 + A12 * k2);
    const t2 = -(A21 * k1 + A22 * k2);
    const e1x = -v1x + h * w1x * t1;
    const e1y = -v1y + h * w1y * t1;
    const e2x = -v2x + h * w2x * t2;
    const e2y = -v2y + h * w2y * t2;
    const y1x = A11 * e1x + A12 * e2x;
    const y1y = A11 * e1y + A12 * e2y;
    const y2x = A21 * e1x + A22 * e2x;
    const y2y = A21 * e1y + A22 * e2y;
    K[14] = y1y * nx - y1x * ny;
    K[15] = y2y * nx - y2x * ny;
    S[10] = -0.5 * (k1 + k2);
    S[11] = 0.5 * (e1x + e2x);
    S[12] = 0.5 * (e1y + e2y);
  }
  for (let k = 0; k < (cut ? 16 : 14); k += 2) {
    const first = K[k];
    K[k] = b11 * first + b12 * K[k + 1];
    K[k + 1] = b21 * first + b22 * K[k + 1];
  }
}

/** Change of the two curvatures: by θ, x, y of the node, by m₀, nx, ny, at nought, and by the motion; 2 numbers each. */
const coefficients = new Float64Array(16);
const stage = new Float64Array(13);
const answer = sectionAnswer();

/** Carries the columns of node i over the step last integrated; `cut`: the column of the wire that is drawn out of it. */
export function propagatePlanarElement(of: InelasticSpan, i: number, cut: number): void {
  carry(of, i, 12, 3);
  carry(of, i, 18, 4);
  carry(of, i, 24, 5);
  carry(of, i, 36, 6);
  if (of.arms.start.steps > 0) carry(of, i, DRAWN_AT_START, cut === DRAWN_AT_START ? 7 : NONE);
  if (of.arms.end.steps > 0) carry(of, i, DRAWN_AT_END, cut === DRAWN_AT_END ? 7 : NONE);
}

const NONE = -1;

function carry({ columns, curvatureColumns }: InelasticSpan, i: number, column: number, forcing: number): void {
  const K = coefficients;
  const S = stage;
  const from = WIDTH * i + column;
  const to = from + WIDTH;
  const t = columns[from + 2];
  const x = columns[from + 3];
  const y = columns[from + 4];
  let k1 = K[0] * t + K[2] * x + K[4] * y;
  let k2 = K[1] * t + K[3] * x + K[5] * y;
  if (forcing >= 0) {
    k1 += K[2 * forcing];
    k2 += K[2 * forcing + 1];
  }
  let dx = x + S[1] * t + S[3] * k1 + S[5] * k2;
  let dy = y + S[2] * t + S[4] * k1 + S[6] * k2;
  let dt = t + (S[0] / 2) * (k1 + k2);
  if (forcing === 4) {
    dx += S[7];
    dy += S[8];
  } else if (forcing === 5) {
    dx += S[8];
    dy += S[9];
  } else if (forcing === 7) {
    dt += S[10];
    dx += S[11];
    dy += S[12];
  }
  columns[to + 2] = dt;
  columns[to + 3] = dx;
  columns[to + 4] = dy;
  curvatureColumns[from + 2] = k1;
  curvatureColumns[from + 5] = k2;
}
