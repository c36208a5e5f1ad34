/**
 * How a root resists being turned, as the square of a length σ: a force whose line of action passes `a` occlusal to the
 * centre of resistance turns the tooth about a point `σ² / a` apical to it.
 */

/** Outline of a root seen from the side, over its length. */
export type RootOutline = 'triangular' | 'parabolic' | 'constant';

/**
 * σ² over the square of the root's length, and where the centre of resistance lies from the crest of the bone, as a share of
 * that length. Uniform support along a plane root outline: the second moment of the outline's width about its centroid,
 * and the centroid (handbook 6.2, computed there; the parabola published as 0.068 h² by Christiansen and Burstone 1969).
 */
const OUTLINES: Readonly<Record<RootOutline, { readonly sigma2: number; readonly centre: number }>> = {
  triangular: { sigma2: 1 / 18, centre: 1 / 3 },
  parabolic: { sigma2: 12 / 175, centre: 2 / 5 },
  constant: { sigma2: 1 / 12, centre: 1 / 2 },
};

/** What is taken where nothing tells the outline. */
const USUAL_OUTLINE: RootOutline = 'parabolic';

/** mm² for a root of the given length in mm. */
export function sigma2(rootLength: number, outline: RootOutline = USUAL_OUTLINE): number {
  return OUTLINES[outline].sigma2 * rootLength ** 2;
}

/**
 * σ² of a group for a turn about an axis that its row stands across (tip, rotation) or along (torque), mm²: its teeth, rigidly
 * tied, resist by their distance from each other as well (the same law for each tooth, moments about the group's centre).
 */
export function groupSigma2(
  { rootLength, rowSpread }: { readonly rootLength?: number; readonly rowSpread: number },
  turn: 'tip' | 'rotation' | 'torque',
): number {
  return sigma2(rootLength ?? 0) + (turn === 'torque' ? 0 : rowSpread);
}

/** From the centre of resistance to the root's tip, mm. */
export function apexBelowResistance(rootLength: number, outline: RootOutline = USUAL_OUTLINE): number {
  return (1 - OUTLINES[outline].centre) * rootLength;
}

/** Least and largest σ² between the outlines, mm². */
export function sigma2Range(rootLength: number): readonly [number, number] {
  return [sigma2(rootLength, 'triangular'), sigma2(rootLength, 'constant')];
}
