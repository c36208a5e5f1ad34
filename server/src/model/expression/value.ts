/** What an expression yields. */
import type { Dimension, Quantity } from '#core/units/quantity';

/**
 * A quantity whose number may not be known yet: inside a part without a call, or before the mechanics
 * has run. Its dimension is known all the same, so that dimensions are checked everywhere.
 */
export interface QuantityValue {
  readonly kind: 'quantity';
  readonly dimension: Dimension;
  readonly value: number | undefined;
  /** Depends on results of the mechanics. */
  readonly ofResults: boolean;
}

export interface TruthValue {
  readonly kind: 'truth';
  readonly truth: boolean | undefined;
  readonly ofResults: boolean;
}

export type Value = QuantityValue | TruthValue;

export function quantityValue(value: number | undefined, dimension: Dimension, ofResults = false): QuantityValue {
  return { kind: 'quantity', dimension, value, ofResults };
}

export function truthValue(truth: boolean | undefined, ofResults = false): TruthValue {
  return { kind: 'truth', truth, ofResults };
}

/** The quantity where its number is known. */
export function knownQuantity(value: Value | undefined): Quantity | undefined {
  if (value?.kind !== 'quantity' || value.value === undefined) return undefined;
  return { value: value.value, dimension: value.dimension };
}
