/** Newton's method with difference quotients over a few numbers in a text, for rows that state loads instead of places. */
export function solveFor(
  residual: (x: readonly number[]) => readonly number[],
  start: readonly number[],
  options: { readonly probe: number; readonly tolerance: number },
): number[] {
  let x = [...start];
  for (let round = 0; round < 12; round++) {
    const r = residual(x);
    if (Math.max(...r.map(Math.abs)) < options.tolerance) return x;
    const columns = x.map((_, k) => {
      const probed = residual(x.map((value, i) => (i === k ? value + options.probe : value)));
      return probed.map((value, i) => (value - r[i]) / options.probe);
    });
    if (x.length === 1) x = [x[0] - r[0] / columns[0][0]];
    else {
      const [[a, c], [b, d]] = columns;
      const determinant = a * d - b * c;
      x = [x[0] - (d * r[0] - b * r[1]) / determinant, x[1] - (a * r[1] - c * r[0]) / determinant];
    }
  }
  throw new Error('no place found for the stated load');
}
