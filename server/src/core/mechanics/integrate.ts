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
import { integratePlanar, propagatePlanar } from './planar-step';
import { COLUMNS, type Span } from './span';
import { integrateSpatial, propagateSpatial } from './spatial-step';
import { strainRates } from './strain-rates';
import { passSupport } from './supports/supports';

/**
 * Sweeps the span and fills `defect` and, where `tangent` is set (no loose span), `columns`. The last node's `defect` and column y
 * refer to the stored pose of the span's end like those of any other node. Column y takes in what so many mm `drawn` out of the arm at
 * the start do.
 */
export function integrate(span: Span, tangent: boolean, drawn = 0): void {
  const { mesh, columns, planar } = span;
  if (tangent) columns.fill(0, 0, COLUMNS);
  for (let i = 0; i < mesh.steps; i++) {
    if (tangent && i > 0 && span.segment[i] !== span.segment[i - 1])
      passSupport(span, i, columns, COLUMNS * i, COLUMNS / 6);
    if (i === 0 && span.loose) {
      span.defect.fill(0, 6, 12);
      continue;
    }
    if (planar) integratePlanar(span, i, tangent);
    else integrateSpatial(span, i, tangent);
    if (!tangent) continue;
    if (planar) propagatePlanar(columns, COLUMNS * i, mesh.h[i]);
    else propagateSpatial(columns, COLUMNS * i, mesh.h[i]);
    const y = COLUMNS * (i + 1) + 36;
    for (let k = 0; k < 6; k++) columns[y + k] += span.defect[6 * i + 6 + k];
    if (drawn === 0 || i >= mesh.firstStep[1]) continue;
    strainRates(span, i + 1, rates);
    for (let k = 0; k < 6; k++) columns[y + k] -= (drawn / mesh.firstStep[1]) * rates[k];
  }
}

const rates = new Float64Array(6);
