/**
 * Quantities with dimensions. A dimension is a product of powers of length, force, time and angle;
 * values are kept in mm, N, s and rad (so MPa = N/mm², moment = N mm). Angle is a kind of its own:
 * moment × angle is energy, and neither is moment.
 */

export interface Dimension {
  readonly length: number;
  readonly force: number;
  readonly time: number;
  readonly angle: number;
}

export interface Quantity {
  /** In mm, N, s, rad and their products. */
  readonly value: number;
  readonly dimension: Dimension;
}
