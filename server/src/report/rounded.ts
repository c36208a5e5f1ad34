/**
 * A number as reports carry it: seven significant digits, and nothing finer than 1e-7, so that a solver's last digits
 * are no difference between two reports. Never a negative zero.
 */
export function rounded(value: number): number {
  const digits = Number(value.toPrecision(7));
  return Math.round(digits * 1e7) / 1e7 || 0;
}
