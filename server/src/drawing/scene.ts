/** What a drawing shows and how large: shapes, states, scale of forces, views. */
import type { ApplianceAnalysis, EngagedState, Outline } from '#core/analysis/analysis';
import { stateBeside } from '#core/analysis/several-wires';
import type { ApplianceDesign, Attachment } from '#core/design';
import { addScaled, column } from '#core/math/vector';
import { DEFAULT_PREFERENCES, type UnitPreferences } from '#core/units/format';
import type { ParameterSize } from '#model/parameter-sizes';
import type { EvaluatedAppliance, PathStep, ResolvedAppliance } from '#model/resolved';
import { type Stretch, stretches } from '#model/stock';
import { arcRadius, type ForceScale, forceScale } from './force-system';
import { textWidth } from './labels';
import { PIVOT_ROOM } from './tooth-group';
import { along, type View, type Views, viewsOf } from './view';
import { type Shape, thickest } from './wire';

export interface DrawingOptions {
  /** mm from neutral; the solved stage nearest to it is drawn. The working activation where absent. */
  readonly activation?: number;
  readonly units?: UnitPreferences;
  readonly show?: Partial<Record<Shape | 'forces' | 'stress' | 'dimensions', boolean>>;
  /** Other appliances whose engaged shapes are laid over this one's, all from the middle of their first seat. */
  readonly over?: readonly DrawableAppliance[];
  /** Sizes that get a handle where they are to be seen; those of one parameter together, the better places first. */
  readonly handles?: readonly ParameterSize[];
  /** The main view only, even where the wire leaves its plane. */
  readonly mainOnly?: boolean;
  /** Of the canvas; its height follows from the appliance. */
  readonly width?: number;
  /** Canvas units per mm at most: that of drawings beside it. */
  readonly largestScale?: number;
}

/** What is drawn: an evaluated appliance, with the design its analysis is of where that is an earlier one. */
export type DrawableAppliance = Pick<EvaluatedAppliance, 'appliance' | 'analysis' | 'workingActivation'> & {
  readonly design?: ApplianceDesign;
} & Partial<Pick<EvaluatedAppliance, 'further'>>;

export interface SceneShape {
  readonly shape: Shape;
  readonly outline: Outline;
  readonly made: readonly Stretch[];
  /** Of an appliance laid over it. */
  readonly compared?: ComparedWire;
}

/** One of those laid over: its kind of line goes by its number, counted from 1. */
export interface ComparedWire {
  readonly name: string;
  readonly number: number;
}

export interface Scene {
  readonly name: string;
  readonly views: Views;
  readonly design: ApplianceDesign;
  readonly marks: ResolvedAppliance['marks'];
  /** Shapes from the back to the front: the thin lines lie over the wire. */
  readonly shapes: readonly SceneShape[];
  /** Of auxiliary wires. */
  readonly fittings: readonly Attachment[];
  /** Everything the activation can show, so that scale and place do not change with it. */
  readonly extent: readonly Outline[];
  /** The same with the centres of resistance of groups of teeth. */
  readonly room: readonly Outline[];
  readonly state: EngagedState | undefined;
  readonly states: readonly EngagedState[];
  readonly forces: ForceScale;
  readonly showForces: boolean;
  readonly showStress: boolean;
  readonly showDimensions: boolean;
  readonly steps: readonly PathStep[];
  readonly units: UnitPreferences;
  readonly width: number;
  /** Largest force and moment out of the main view's plane, N and N mm. */
  readonly outOfPlane: { readonly force: number; readonly moment: number };
}

/** Room beside the wire's ends. */
const edgeMargin = 28;
/** Room beside the attachments' centres for an arc with its label, or on a narrow canvas for half a label. */
const widestLabelMargin = arcRadius + 22 + textWidth('turns the mesial side out');
const labelMarginPart = 0.224;
/** A narrower canvas has no room for labels; its page scales the drawing down instead. */
const narrowest = 420;
const tallestWire = 400;
const largestScale = 44;

export function composeScene(
  { appliance: { name, site, marks, steps }, workingActivation, further = [] }: DrawableAppliance,
  design: ApplianceDesign,
  analysis: ApplianceAnalysis,
  options: DrawingOptions,
): Scene {
  const states = [analysis.neutral, ...analysis.stages.map(({ state }) => state)].filter(
    (state) => state !== undefined,
  );
  const state = nearest(states.slice(analysis.neutral === undefined ? 0 : 1), options.activation ?? workingActivation);
  // What cannot be engaged is shown as it is meant to lie and as it leaves the plier.
  const show = {
    nominal: state === undefined,
    passive: state === undefined,
    // Without an activation the neutral state is the engaged one.
    neutral: design.activation !== undefined,
    engaged: true,
    auxiliary: true,
    forces: true,
    stress: false,
    dimensions: false,
    ...options.show,
  };
  const made = stretches(design);
  const outlines: readonly (readonly [Shape, Outline | undefined])[] = [
    ['neutral', analysis.neutral?.outline],
    ['engaged', state?.outline],
    ['passive', analysis.passive],
    ['nominal', analysis.nominal],
  ];
  const shapes = outlines.flatMap(([shape, outline]) =>
    show[shape] && outline !== undefined ? [{ shape, outline, made }] : [],
  );
  const beside = further.flatMap((wire) => {
    const outline = stateBeside(wire, state?.motion ?? 0)?.outline;
    return show.auxiliary && outline ? [{ shape: 'auxiliary' as const, outline, made: stretches(wire.design) }] : [];
  });
  const compared = (options.over ?? []).flatMap((one, k) =>
    // One that is not activated says nothing of how far another is.
    comparedShape(one, k + 1, design.activation ? (options.activation ?? workingActivation) : one.workingActivation),
  );
  const wrenches = states.flatMap((one) => one.wrenches);
  const extent = [...beside, ...shapes, ...compared, ...states].map(({ outline }) => outline);
  // Axes of the teeth that leave the main view's plane: buccal from the cheek, gingival from the biting side.
  const out = site.kind === 'arch' ? 1 : 2;
  const inside = ([0, 1, 2] as const).filter((k) => k !== out);
  return {
    name,
    views: viewsOf(site),
    design,
    marks,
    shapes: [...beside, ...shapes, ...compared],
    fittings: beside.length > 0 ? further.flatMap((wire) => wire.design.attachments) : [],
    extent,
    room: show.forces ? [...extent, ...centresOf(design)] : extent,
    state,
    states,
    forces: forceScale(wrenches),
    showForces: show.forces,
    showStress: show.stress,
    showDimensions: show.dimensions,
    steps,
    units: options.units ?? DEFAULT_PREFERENCES,
    width: Math.max(options.width ?? 960, narrowest),
    outOfPlane: {
      force: Math.max(0, ...wrenches.map(({ force }) => Math.abs(force[out]))),
      moment: Math.max(0, ...wrenches.flatMap(({ moment }) => inside.map((k) => Math.abs(moment[k])))),
    },
  };
}

/** Centres of resistance, and the room above them in which the groups turn. */
function centresOf({ groups }: ApplianceDesign): Outline[] {
  return groups.map(({ resistance, axes }) => ({
    stations: [0, 0],
    points: [...resistance, ...addScaled(resistance, column(axes, 1), PIVOT_ROOM)],
    sides: [0, 0, 0, 0, 0, 0],
  }));
}

function comparedShape(
  { appliance, analysis, design = appliance.design }: DrawableAppliance,
  number: number,
  activation: number | undefined,
): SceneShape[] {
  const states = analysis?.stages.flatMap(({ state }) => state ?? []) ?? [];
  const outline = nearest(states, activation)?.outline ?? analysis?.passive;
  const compared = { name: appliance.name, number };
  return design && outline ? [{ shape: 'compared', outline, made: stretches(design), compared }] : [];
}

function nearest(states: readonly EngagedState[], activation: number | undefined): EngagedState | undefined {
  if (activation === undefined) return states[states.length - 1];
  return states.reduce<EngagedState | undefined>(
    (best, state) =>
      best === undefined || Math.abs(state.activation - activation) < Math.abs(best.activation - activation)
        ? state
        : best,
    undefined,
  );
}

/** Legs that merely lie beside each other do not need a second view. */
export function leavesPlane({ design, extent, forces, outOfPlane, views }: Scene): boolean {
  const [low, high] = range(extent, views.main.toward);
  return (
    high - low > 2.5 * thickest(stretches(design), views.second.name) ||
    outOfPlane.force > 0.03 * forces.force ||
    outOfPlane.moment > 0.03 * forces.moment
  );
}

/**
 * Scale and place along the arch: the wire's ends keep a small margin, the attachments one that takes an arc with its
 * label. Height is limited, so that a tall wire does not push everything else off the screen.
 */
export function fitScale(
  scene: Scene,
  views: readonly View[],
  limit = largestScale,
): { scale: number; originX: number } {
  const { design, room, width } = scene;
  const { main } = scene.views;
  const labelMargin = Math.min(widestLabelMargin, labelMarginPart * width);
  const [left, right] = range(room, main.right);
  const places = design.attachments.map(({ seatedWire }) => along(main.right, seatedWire.position));
  const lefts = [[left, edgeMargin], ...places.map((place) => [place, labelMargin])];
  const rights = [[right, edgeMargin], ...places.map((place) => [place, labelMargin])];
  const heights = views.map(({ up }) => range(room, up)).map(([low, high]) => high - low);
  const widths = lefts.flatMap(([from, before]) =>
    rights.map(([to, after]) => (width - before - after) / Math.max(to - from, 1)),
  );
  const fit = Math.min(...widths, ...heights.map((height) => tallestWire / Math.max(height, 1)), largestScale, limit);
  const scale = Math.max(Math.floor(fit * 100) / 100, 1);
  const leftmost = Math.min(...lefts.map(([from, margin]) => from * scale - margin));
  const rightmost = Math.max(...rights.map(([to, margin]) => to * scale + margin));
  return { scale, originX: (width - leftmost - rightmost) / 2 };
}

/** Least and largest place along a view's axis, mm. */
export function range(outlines: readonly Outline[], axis: View['up']): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { points } of outlines) {
    for (let k = axis.index; k < points.length; k += 3) {
      const place = axis.sign * points[k];
      low = Math.min(low, place);
      high = Math.max(high, place);
    }
  }
  return [low, high];
}
