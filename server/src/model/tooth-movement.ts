/** What a force system at the centre of resistance does to a group, in figures and in words. */
import type { EngagedState, Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign, ToothGroup } from '#core/design';
import { applyTransposed, norm, subtract } from '#core/math/vector';
import { closureShare, rootPressure } from '#core/response/anchorage';
import { apexBelowResistance, groupSigma2, sigma2Range } from '#core/response/root';
import { type Plane, type Tipping, tipping } from '#core/response/tipping';
import { wrenchAtResistance } from '#core/response/tooth-group';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';

export interface GroupFigures {
  readonly group: ToothGroup;
  /** At the centre of resistance, in the group's own axes. */
  readonly wrench: Wrench;
  readonly along: PlaneFigures | undefined;
  readonly across: PlaneFigures | undefined;
  /** MPa */
  readonly rootPressure: number | undefined;
  /** Of a closure between two groups, by the surfaces of their roots. */
  readonly closureShare: number | undefined;
}

export interface PlaneFigures extends Tipping {
  /** Of the centre of rotation, between the outlines that a root may have, mm apical; absent where the roots are not known. */
  readonly rotationRange: readonly [number, number] | undefined;
  /** e.g. "uncontrolled tipping": shorter, for a drawing. */
  readonly kind: string;
  /** e.g. "tips the crown distally and the root tip mesially (uncontrolled tipping)". */
  readonly words: string;
}

/** One for each group of the design. */
export function groupFigures(design: ApplianceDesign, state: EngagedState): GroupFigures[] {
  const { groups } = design;
  return groups.map((group, k) => {
    const wrench = wrenchAtResistance(design, state, group);
    const other = groups.length === 2 ? groups[1 - k] : undefined;
    return {
      group,
      wrench,
      along: planeFigures(design, group, wrench, 'along'),
      across: planeFigures(design, group, wrench, 'across'),
      rootPressure: rootPressure(norm(wrench.force), group),
      closureShare: other && closureShare(group, other),
    };
  });
}

/** Of the centre of resistance from the group's first attachment toward gingival, mm. */
function resistanceDepth({ attachments }: ApplianceDesign, group: ToothGroup): number {
  const { position } = attachments[group.attachments[0]].seatedWire;
  return applyTransposed(group.axes, subtract(group.resistance, position))[1];
}

function planeFigures(
  design: ApplianceDesign,
  group: ToothGroup,
  wrench: Wrench,
  plane: Plane,
): PlaneFigures | undefined {
  const { rootLength } = group;
  const turn = plane === 'along' ? 'tip' : 'torque';
  const figures = tipping(
    wrench,
    groupSigma2(group, turn),
    plane,
    Math.max(LEAST_FORCE, WORTH_SAYING * norm(wrench.force)),
  );
  if (!figures) return undefined;
  const { lineOfAction } = figures;
  const spread = plane === 'along' ? group.rowSpread : 0;
  const range =
    rootLength === undefined || !lineOfAction
      ? undefined
      : sigma2Range(rootLength).map((square) => (square + spread) / lineOfAction);
  return {
    ...figures,
    rotationCentre: rootLength === undefined ? undefined : figures.rotationCentre,
    rotationRange: range && [Math.min(...range), Math.max(...range)],
    ...movementWords(figures, plane, rootLength, resistanceDepth(design, group)),
  };
}

/** Of the whole force. */
const WORTH_SAYING = 0.03;

/** N; below it nothing moves that anybody would see. */
const LEAST_FORCE = 0.01;

/**
 * The usual classes with how far the line of action is from that of translation: classes shade into each other, and where
 * one begins is an estimate (handbook 6.2). `depth` is that of the centre of resistance below the attachment, mm.
 */
export function movementWords(
  { force, lineOfAction, rotationCentre }: Tipping,
  plane: Plane,
  rootLength: number | undefined,
  depth: number,
): Pick<PlaneFigures, 'kind' | 'words'> {
  if (lineOfAction === undefined) return { kind: 'rotation', words: 'turns about its centre of resistance' };
  const [way, back] = waysOf(plane, force);
  const distance = formatQuantity({ value: Math.abs(lineOfAction), dimension: LENGTH });
  const side = lineOfAction > 0 ? 'occlusal' : 'apical';
  if (Math.abs(lineOfAction) < TRANSLATION) return { kind: 'translation', words: `moves bodily ${way} (translation)` };
  const says = (kind: string, words: string) => ({
    kind,
    words: `${words}; the line of its pull passes ${distance} ${side} of its centre of resistance`,
  });
  if (rootLength === undefined || rotationCentre === undefined) {
    const first = lineOfAction > 0 ? 'crown first' : 'root first';
    return says(first, `moves ${way}, ${first}`);
  }
  const apex = apexBelowResistance(rootLength);
  if (rotationCentre > 0) {
    if (rotationCentre < NEAR * apex)
      return says('uncontrolled tipping', `tips its crown ${way} and its root tip ${back} (uncontrolled tipping)`);
    if (rotationCentre <= apex / NEAR)
      return says('controlled tipping', `tips ${way} about its root tip (controlled tipping)`);
    return says(
      'crown ahead',
      `moves ${way}, the crown ahead of the root (between controlled tipping and translation)`,
    );
  }
  if (-rotationCentre > depth / NEAR)
    return says('root ahead', `moves ${way}, the root ahead of the crown (between translation and root movement)`);
  if (-rotationCentre >= NEAR * depth)
    return says('root movement', `moves its root ${way} about the attachment (root movement)`);
  return says('root movement', `moves its root ${way} and its crown ${back}`);
}

/** mm */
const TRANSLATION = 0.3;
/** A centre of rotation as near to a place as this counts as there. */
const NEAR = 0.75;

function waysOf(plane: Plane, force: number): readonly [string, string] {
  const ways = plane === 'along' ? (['mesially', 'distally'] as const) : (['buccally', 'lingually'] as const);
  return force > 0 ? ways : [ways[1], ways[0]];
}
