/** Reading values off a solved curve. */

/**
 * First place at which a curve through the points (x[k], y[k]), taken in order, reaches zero, by the cubic through
 * the four nearest points; undefined where it does not within them.
 */
export function firstZero(x: readonly number[], y: readonly number[]): number | undefined {
  if (y.length > 0 && y[0] === 0) return x[0];
  for (let k = 0; k + 1 < x.length; k++) {
    if (y[k] * y[k + 1] > 0 || x[k] === x[k + 1]) continue;
    const first = Math.max(0, Math.min(k - 1, x.length - 4));
    return bisect(x.slice(first, first + 4), y.slice(first, first + 4), x[k], x[k + 1]);
  }
  return undefined;
}

/** Between two places at which the interpolating polynomial has given values of opposite sign. */
function bisect(x: readonly number[], y: readonly number[], from: number, to: number): number {
  let a = from;
  let b = to;
  const atA = polynomial(x, y, a);
  for (let k = 0; k < 50; k++) {
    const middle = 0.5 * (a + b);
    if (polynomial(x, y, middle) * atA > 0) a = middle;
    else b = middle;
  }
  return 0.5 * (a + b);
}

/** Lagrange's interpolating polynomial. */
function polynomial(x: readonly number[], y: readonly number[], at: number): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    let term = y[i];
    for (let j = 0; j < x.length; j++) if (j !== i) term *= (at - x[j]) / (x[i] - x[j]);
    sum += term;
  }
  return sum;
}
