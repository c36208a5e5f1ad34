/**
 * What a fibre of the wire does under stretch and its release: stress from strain and from what it has been through.
 * Tension and compression behave alike. MPa; strains are plain numbers.
 */

/**
 * Elastic, then plastic with a straight line of slope `hardening` (linear kinematic hardening, Prager): load
 * reversal yields after twice the yield strain, whatever came before (Bauschinger effect).
 */
export interface ElasticPlasticLaw {
  readonly kind: 'elastic-plastic';
  readonly yield: number;
  /** Slope of the stress-strain line past yield, 0 <= hardening < modulus. */
  readonly hardening: number;
}

/**
 * Superelastic flag: elastic up to the loading plateau, along it until the whole transformation strain is taken up,
 * elastic beyond; back along the unloading plateau. One modulus for both phases, level plateaus but for a small slope.
 */
export interface SuperelasticLaw {
  readonly kind: 'superelastic';
  readonly loadingPlateau: number;
  readonly unloadingPlateau: number;
  readonly transformationStrain: number;
}

export type UniaxialLaw = ElasticPlasticLaw | SuperelasticLaw;

/** The law with its constants worked out, for the solver. A fibre's whole history is one number. */
export type FibreLaw =
  | {
      readonly kind: 'elastic-plastic';
      /**
       * A spring of modulus `parallel` beside a perfectly plastic element of modulus `modulus` that slips at `limit`
       * strain: together exactly linear kinematic hardening. The history is the slipped strain.
       */
      readonly modulus: number;
      readonly parallel: number;
      readonly limit: number;
    }
  | {
      readonly kind: 'superelastic';
      readonly modulus: number;
      readonly parallel: number;
      /** Elastic strains at which transformation goes on and at which it goes back; the history is the strain transformed. */
      readonly forward: number;
      readonly back: number;
      readonly full: number;
    };

export function fibreLaw(law: UniaxialLaw, modulus: number): FibreLaw {
  if (law.kind === 'elastic-plastic') {
    const parallel = Math.max(law.hardening, LEAST_SLOPE * modulus);
    return { kind: law.kind, modulus: modulus - parallel, parallel, limit: law.yield / modulus };
  }
  const parallel = LEAST_SLOPE * modulus;
  return {
    kind: law.kind,
    modulus: modulus - parallel,
    parallel,
    forward: law.loadingPlateau / modulus,
    back: law.unloadingPlateau / modulus,
    full: law.transformationStrain,
  };
}

/** Share of the modulus that is left on a plateau: without any, a plastic hinge would have no stiffness to solve with. */
export const LEAST_SLOPE = 1e-4;

/** Strain at which a fibre without history leaves its first elastic line. */
export function elasticLimit(law: FibreLaw): number {
  return law.kind === 'elastic-plastic' ? law.limit : law.forward;
}

/** History of a fibre that is strained to `strain` from a state with `history`. */
export function newHistory(law: FibreLaw, strain: number, history: number): number {
  const elastic = strain - history;
  if (law.kind === 'elastic-plastic') {
    if (elastic > law.limit) return strain - law.limit;
    if (elastic < -law.limit) return strain + law.limit;
    return history;
  }
  // Transformed fibres go back past the unloading plateau; beyond nought they may at once transform the other way.
  if (history > 0 && elastic < law.back)
    return Math.max(strain - law.back, Math.min(0, strain + law.forward), -law.full);
  if (history < 0 && elastic > -law.back)
    return Math.min(strain + law.back, Math.max(0, strain - law.forward), law.full);
  if (elastic > law.forward) return Math.max(history, Math.min(strain - law.forward, law.full));
  if (elastic < -law.forward) return Math.min(history, Math.max(strain + law.forward, -law.full));
  return history;
}

/** Elastic strain of a fibre at `strain` from a state with `history`, counted so that past `elasticLimit` it goes on, either way. */
export function usedRange(law: FibreLaw, strain: number, history: number): number {
  const elastic = history < 0 ? history - strain : strain - history;
  if (law.kind === 'elastic-plastic' || history === 0) return Math.abs(elastic);
  // A fibre that is transformed goes back at the unloading plateau; fully transformed ones are counted with those that go on.
  return Math.max(elastic, law.forward + law.back - elastic);
}

/** Stress, MPa, of a fibre at `strain` that comes from a state with `history`. */
export function fibreStressAt(law: FibreLaw, strain: number, history: number): number {
  return law.modulus * (strain - newHistory(law, strain, history)) + law.parallel * strain;
}
