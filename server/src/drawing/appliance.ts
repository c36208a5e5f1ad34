/** The outline of an appliance to scale with its force system, as one SVG element. */
import type { ApplianceAnalysis, EngagedState, LoadState, Outline } from '#core/analysis/analysis';
import type { ApplianceDesign, Attachment } from '#core/design';
import { apply, type Vec3 } from '#core/math/vector';
import { FORCE, LENGTH, MOMENT } from '#core/units/dimension';
import { DEFAULT_PREFERENCES, formatQuantity, type UnitPreferences } from '#core/units/format';
import { loadName, loadSense } from '#model/contacts';
import { type Effect, effects } from '#model/effects';
import type { EvaluatedAppliance, ResolvedAppliance } from '#model/resolved';
import { type Stretch, stockAt, stretches } from '#model/stock';
import { type DrawnAttachment, drawAttachment } from './attachment';
import { arcRadius, drawForceSystem, type ForceScale, forceScale, longestArrow, negligible } from './force-system';
import { drawDirections, drawLegend, drawScaleBar, legendRows, legendWidth, text } from './furniture';
import { fontSize, type Label, lineHeight, type Obstacle, type PlacedLabel, placeLabels, textWidth } from './labels';
import { type DrawnLoad, drawLoad } from './load';
import { coordinate, element, escapeText } from './svg';
import { along, type Projection, project, type View, type Views, viewsOf } from './view';
import { drawWire, type Shape, thickest, visibleThickness } from './wire';

export interface DrawingOptions {
  /** mm from neutral; the solved stage nearest to it is drawn. The working activation where absent. */
  readonly activation?: number;
  readonly units?: UnitPreferences;
  readonly show?: Partial<Record<Shape | 'forces', boolean>>;
  /** Of the canvas; its height follows from the appliance. */
  readonly width?: number;
}

/** What is drawn: an evaluated appliance, with the design its analysis is of where that is an earlier one. */
export type DrawableAppliance = Pick<EvaluatedAppliance, 'appliance' | 'analysis' | 'workingActivation'> & {
  readonly design?: ApplianceDesign;
} & Partial<Pick<EvaluatedAppliance, 'further'>>;

/**
 * Main view (a quadrant from the cheek, a whole arch from the biting side) and, where the wire or its forces leave that
 * plane, a second one at the same scale below it. Undefined where there is no wire to draw.
 */
export function drawAppliance(drawable: DrawableAppliance, options: DrawingOptions = {}): string | undefined {
  const design = drawable.design ?? drawable.appliance.design;
  const { analysis } = drawable;
  if (design === undefined || analysis === undefined || analysis.nominal.stations.length < 2) return undefined;
  const scene = composeScene(drawable, design, analysis, options);
  const { main, second } = scene.views;
  const views = leavesPlane(scene) ? [main, second] : [main];
  const { scale, originX } = fitScale(scene, views);
  const parts: string[] = [];
  const header = drawHeader(scene);
  let top = header.bottom;
  for (const [index, view] of views.entries()) {
    const drawn = drawView(scene, view, scale, originX, top);
    if (index > 0) parts.push(element('path', { class: 'divider', d: `M24 ${coordinate(top)}H${scene.width - 24}` }));
    parts.push(drawn.svg);
    top = drawn.bottom;
  }
  const id = `springwright-${scene.name.replace(/[^A-Za-z0-9_-]/g, '-')}`;
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'springwright-drawing',
      viewBox: `0 0 ${scene.width} ${coordinate(top)}`,
      role: 'img',
      'aria-labelledby': `${id}-title ${id}-description`,
      'data-scale': scale,
    },
    element('title', { id: `${id}-title` }, escapeText(title(scene))),
    element('desc', { id: `${id}-description` }, escapeText(description(scene))),
    element('rect', { class: 'ground', x: 0, y: 0, width: scene.width, height: top }),
    header.svg,
    ...parts,
  );
}

interface Scene {
  readonly name: string;
  readonly views: Views;
  readonly design: ApplianceDesign;
  readonly marks: ResolvedAppliance['marks'];
  /** Shapes from the back to the front: the thin lines lie over the wire. */
  readonly shapes: readonly { readonly shape: Shape; readonly outline: Outline; readonly made: readonly Stretch[] }[];
  /** Of auxiliary wires. */
  readonly fittings: readonly Attachment[];
  /** Everything the activation can show, so that scale and place do not change with it. */
  readonly extent: readonly Outline[];
  readonly state: EngagedState | undefined;
  readonly states: readonly EngagedState[];
  readonly forces: ForceScale;
  readonly showForces: boolean;
  readonly units: UnitPreferences;
  readonly width: number;
  /** Largest force and moment out of the main view's plane, N and N mm. */
  readonly outOfPlane: { readonly force: number; readonly moment: number };
}

/** From the drawing board to the mouth. */
const shapeOrder: readonly Shape[] = ['nominal', 'passive', 'neutral', 'engaged', 'auxiliary'];

const footerHeight = 46;
/** Room beside the wire's ends. */
const edgeMargin = 28;
/** Room beside the attachments' centres for an arc with its label, or on a narrow canvas for half a label. */
const widestLabelMargin = arcRadius + 22 + textWidth('turns the mesial side out');
const labelMarginPart = 0.224;
/** A narrower canvas has no room for labels; its page scales the drawing down instead. */
const narrowest = 420;
const tallestWire = 400;
const largestScale = 44;

function composeScene(
  { appliance: { name, site, marks }, workingActivation, further = [] }: DrawableAppliance,
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
  const beside = further.flatMap(({ design: other, analysis: { stages } }) => {
    const outline = stages[0]?.state?.outline;
    return show.auxiliary && outline ? [{ shape: 'auxiliary' as const, outline, made: stretches(other) }] : [];
  });
  const wrenches = states.flatMap((one) => one.wrenches);
  // Axes of the teeth that leave the main view's plane: buccal from the cheek, gingival from the biting side.
  const out = site.kind === 'arch' ? 1 : 2;
  const inside = ([0, 1, 2] as const).filter((k) => k !== out);
  return {
    name,
    views: viewsOf(site),
    design,
    marks,
    shapes: [...beside, ...shapes],
    fittings: beside.length > 0 ? further.flatMap((wire) => wire.design.attachments) : [],
    extent: [...beside, ...shapes, ...states].map(({ outline }) => outline),
    state,
    states,
    forces: forceScale(wrenches),
    showForces: options.show?.forces ?? true,
    units: options.units ?? DEFAULT_PREFERENCES,
    width: Math.max(options.width ?? 960, narrowest),
    outOfPlane: {
      force: Math.max(0, ...wrenches.map(({ force }) => Math.abs(force[out]))),
      moment: Math.max(0, ...wrenches.flatMap(({ moment }) => inside.map((k) => Math.abs(moment[k])))),
    },
  };
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
function leavesPlane({ design, extent, forces, outOfPlane, views }: Scene): boolean {
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
function fitScale(scene: Scene, views: readonly View[]): { scale: number; originX: number } {
  const { design, extent, width } = scene;
  const { main } = scene.views;
  const labelMargin = Math.min(widestLabelMargin, labelMarginPart * width);
  const [left, right] = range(extent, main.right);
  const places = design.attachments.map(({ seatedWire }) => along(main.right, seatedWire.position));
  const lefts = [[left, edgeMargin], ...places.map((place) => [place, labelMargin])];
  const rights = [[right, edgeMargin], ...places.map((place) => [place, labelMargin])];
  const heights = views.map(({ up }) => range(extent, up)).map(([low, high]) => high - low);
  const widths = lefts.flatMap(([from, before]) =>
    rights.map(([to, after]) => (width - before - after) / Math.max(to - from, 1)),
  );
  const fit = Math.min(...widths, ...heights.map((height) => tallestWire / Math.max(height, 1)), largestScale);
  const scale = Math.max(Math.floor(fit * 100) / 100, 1);
  const leftmost = Math.min(...lefts.map(([from, margin]) => from * scale - margin));
  const rightmost = Math.max(...rights.map(([to, margin]) => to * scale + margin));
  return { scale, originX: (width - leftmost - rightmost) / 2 };
}

function drawView(
  scene: Scene,
  view: View,
  scale: number,
  originX: number,
  top: number,
): { svg: string; bottom: number } {
  const { design, extent, state, width } = scene;
  const [low, high] = range(extent, view.up);
  const places = design.attachments.map((_, index) => placeOf(design, index, state));
  const above = Math.max(
    34,
    ...places.map((place, index) => room(scene, view, index, 1) - (high - along(view.up, place)) * scale),
  );
  const below = Math.max(
    24,
    ...places.map((place, index) => room(scene, view, index, -1) - (along(view.up, place) - low) * scale),
  );
  const projection: Projection = {
    view,
    scale,
    origin: [originX, top + above + high * scale],
  };
  const base = top + above + (high - low) * scale + below;
  const bottom = base + footerHeight;
  const made = stretches(design);
  const wireWidth = thickest(made, view.name) * scale;

  const attachments = design.attachments.map((attachment, index) =>
    drawAttachment(
      attachment,
      places[index],
      projection,
      visibleThickness(stockAt(design, attachment.station), view.name) * scale,
    ),
  );
  const fittings = scene.fittings.map((attachment) =>
    drawAttachment(attachment, attachment.seatedWire.position, projection, wireWidth),
  );
  const marks =
    state === undefined || !scene.showForces
      ? []
      : attachments.flatMap((drawn, index) =>
          drawForceSystem(
            { wrench: state.wrenches[index], axes: design.attachments[index].axes },
            drawn,
            view,
            scene.forces,
            outward(attachments, index),
            (effect) => amountText(effect, scene.units),
          ),
        );
  const loads = drawLoads(scene, projection, wireWidth);
  const labels = [
    ...marks.map(({ label }) => label),
    ...loads.flatMap(({ label }) => (label.lines.length > 0 ? [label] : [])),
    ...attachments.map((drawn, index) => nameLabel(scene, drawn, index, view)),
  ];
  const obstacles = [
    ...scene.shapes.flatMap(({ outline }) => wireObstacles(outline, projection, wireWidth)),
    ...[...attachments, ...fittings].flatMap(attachmentObstacles),
    ...marks.flatMap((mark) => mark.obstacles),
    ...loads.flatMap((load) => load.obstacles),
  ];
  const placed = placeLabels(labels, obstacles, [12, top + 26, width - 12, base + 8]);
  const svg = element(
    'g',
    { class: `view ${view.name}` },
    text(24, top + 18, view.title, 'quiet'),
    element('g', { class: 'attachments' }, ...[...fittings, ...attachments].map((drawn) => drawn.svg)),
    ...scene.shapes.map(({ shape, outline, made: own }) => drawWire(outline, own, projection, shape)),
    element('g', { class: 'loads' }, ...loads.map((load) => load.svg)),
    element('g', { class: 'force-system' }, ...marks.map((mark) => mark.svg)),
    element('g', { class: 'labels' }, ...placed.map(drawLabel)),
    drawDirections(projection, 30, bottom - 16),
    drawScaleBar(projection, width - 24, bottom - 18),
  );
  return { svg, bottom };
}

/** What pulls at the wire or its attachments, with its force in the main view only. */
function drawLoads(
  { design, state, showForces, units, marks, views }: Scene,
  projection: Projection,
  wireWidth: number,
): DrawnLoad[] {
  if (!state || !showForces) return [];
  return design.loads.map((load, k) => {
    const lines =
      projection.view === views.main ? [pullWords(state.loads[k], units), loadName(load, design, { marks })] : [];
    return drawLoad(load, state.loads[k], projection, wireWidth / 2 + 3, lines);
  });
}

/** Room above (1) or below (-1) an attachment for its longest arrow of any stage with a label, or for its arc and name. */
function room({ states, forces, design }: Scene, view: View, index: number, side: 1 | -1): number {
  const { axes } = design.attachments[index];
  const pushes = states.map(({ wrenches }) => side * along(view.up, apply(axes, wrenches[index].force)));
  const arrow = (longestArrow * Math.max(0, ...pushes)) / forces.force;
  return Math.max(arrow, 36) + 2 * lineHeight + 30;
}

/** Where an attachment stands in a state: an activation may have moved it. */
function placeOf(design: ApplianceDesign, index: number, state: EngagedState | undefined): Vec3 {
  const [x, y, z] = design.attachments[index].seatedWire.position;
  const motion = design.activation?.motion;
  if (motion?.kind !== 'move' || motion.attachment !== index || state === undefined) return [x, y, z];
  const [dx, dy, dz] = motion.direction;
  return [x + state.motion * dx, y + state.motion * dy, z + state.motion * dz];
}

function outward(attachments: readonly DrawnAttachment[], index: number): 1 | -1 {
  const mean = attachments.reduce((sum, { centre }) => sum + centre[0], 0) / attachments.length;
  return attachments[index].centre[0] < mean ? -1 : 1;
}

/** What turns about the line of sight of neither view stands with the attachment's name: torque, in a whole arch tip too. */
function nameLabel(scene: Scene, drawn: DrawnAttachment, index: number, view: View): Label {
  const { name, fitting } = scene.design.attachments[index];
  const lines = [name, fitting];
  const all = scene.state === undefined ? [] : effects(scene.state.wrenches[index]);
  const turns = all.filter(
    ({ kind, axis }) => kind === 'moment' && (axis === 0 || (axis === 2 && view.frame === 'arch')),
  );
  for (const turn of view.name === 'occlusal' && scene.showForces && roomForTurns(view, scene) ? turns : []) {
    if (turn.amount > negligible * scene.forces.moment) lines.push(`${amountText(turn, scene.units)}, ${turn.words}`);
  }
  return {
    class: 'name',
    lines: view.name === 'occlusal' ? lines.filter((line) => line !== fitting) : lines,
    anchor: drawn.centre,
    toward: [0, 1],
    distance: drawn.half[1] + 6,
  };
}

/** On a narrow canvas a whole arch, or many attachments side by side, leave no room for them; the report and the hover tell them. */
function roomForTurns({ frame }: View, { width, design }: Scene): boolean {
  const count = design.attachments.length;
  return width >= (frame === 'quadrant' ? 110 * count : 80 * Math.max(count, 8));
}

function amountText({ kind, amount }: Effect, units: UnitPreferences): string {
  return formatQuantity({ value: amount, dimension: kind === 'force' ? FORCE : MOMENT }, units);
}

function drawLabel({ label, box }: PlacedLabel): string {
  const [left, top, right, bottom] = box;
  const middle = (left + right) / 2;
  const lines = label.lines.map((line, index) => {
    const y = top + index * lineHeight + fontSize - 0.5;
    // A ground-coloured edge keeps letters readable where a line runs behind them.
    return text(middle, y, line, 'halo', 'middle') + text(middle, y, line, index === 0 ? 'amount' : 'quiet', 'middle');
  });
  const [x, y] = label.anchor;
  const nearX = Math.min(Math.max(x, left), right);
  const nearY = Math.min(Math.max(y, top), bottom);
  const distance = Math.hypot(nearX - x, nearY - y);
  const leader =
    label.class !== 'name' && distance > label.distance + 34
      ? element('path', {
          class: 'leader',
          d: `M${coordinate(nearX)} ${coordinate(nearY)}L${coordinate(x + ((nearX - x) * 14) / distance)} ${coordinate(y + ((nearY - y) * 14) / distance)}`,
        })
      : '';
  return element('g', { class: `label ${label.class}` }, leader, ...lines);
}

/** Name and legend side by side, or one below the other where the canvas is narrow. */
function drawHeader(scene: Scene): { svg: string; bottom: number } {
  const { state, width } = scene;
  const names: Record<Shape, string> = {
    nominal: 'nominal',
    passive: 'passive',
    neutral: 'neutral',
    engaged:
      scene.design.activation === undefined || state === undefined
        ? 'engaged'
        : `engaged at ${millimetres(state.activation)}`,
    auxiliary: 'auxiliary',
  };
  const entries = shapeOrder
    .filter((shape) => scene.shapes.some((shown) => shown.shape === shape))
    .map((shape) => ({ shape, name: names[shape] }));
  // The heading's letters are a quarter larger and bold.
  const beside = 24 + 1.4 * textWidth(scene.name) + 24 + legendWidth(entries) <= width - 24;
  const rows = beside ? [entries] : legendRows(entries, width - 48);
  const first = beside ? 26 : 54;
  const rule = first + (rows.length - 1) * 22 + 20;
  const svg = element(
    'g',
    { class: 'header' },
    text(24, 30, scene.name, 'heading'),
    ...rows.map((row, index) => drawLegend(row, beside ? width - 24 : 24 + legendWidth(row), first + index * 22)),
    element('path', { class: 'divider', d: `M24 ${rule}H${width - 24}` }),
  );
  return { svg, bottom: rule + 16 };
}

function title({ name, state, design }: Scene): string {
  if (state === undefined) return `${name}: outline to scale`;
  return design.activation === undefined
    ? `${name}: outline to scale, engaged`
    : `${name}: outline to scale at ${millimetres(state.activation)} of activation`;
}

function description({ design, state, units, forces, marks, views: { main } }: Scene): string {
  const frame = `Seen ${main.title.toLowerCase()}: ${main.right.name} to the right, ${main.up.name} up.`;
  if (state === undefined) return `${frame} No equilibrium to show.`;
  const sentences = design.attachments.map(({ name }, index) => {
    const acting = effects(state.wrenches[index]).filter(({ kind, amount }) => amount > negligible * forces[kind]);
    if (acting.length === 0) return `${name}: no force.`;
    return `${name}: ${acting.map((effect) => `${amountText(effect, units)} ${effect.words}`).join(', ')}.`;
  });
  const pulls = design.loads.map(
    (load, k) => `${loadName(load, design, { marks })}: ${pullWords(state.loads[k], units)}.`,
  );
  return [frame, ...sentences, ...pulls].join(' ');
}

function pullWords(load: LoadState, units: UnitPreferences): string {
  const sense = loadSense(load);
  if (sense === 'slack') return sense;
  return `${sense} ${formatQuantity({ value: Math.abs(load.force), dimension: FORCE }, units)}`;
}

function millimetres(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}

/** Least and largest place along a view's axis, mm. */
function range(outlines: readonly Outline[], axis: View['up']): readonly [number, number] {
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

function wireObstacles(outline: Outline, projection: Projection, wireWidth: number): Obstacle[] {
  const obstacles: Obstacle[] = [];
  let last = { x: Number.NaN, y: Number.NaN };
  for (let k = 0; k + 2 < outline.points.length; k += 3) {
    const { x, y } = project(projection, [outline.points[k], outline.points[k + 1], outline.points[k + 2]]);
    const pieces = Number.isNaN(last.x) ? 1 : Math.max(1, Math.ceil(Math.hypot(x - last.x, y - last.y) / 8));
    for (let piece = 1; piece <= pieces; piece++) {
      const part = piece / pieces;
      obstacles.push({
        x: pieces === 1 ? x : last.x + part * (x - last.x),
        y: pieces === 1 ? y : last.y + part * (y - last.y),
        radius: wireWidth / 2 + 2,
      });
    }
    last = { x, y };
  }
  return obstacles;
}

function attachmentObstacles({ centre, half }: DrawnAttachment): Obstacle[] {
  return [-1, -0.5, 0, 0.5, 1].map((part) => ({ x: centre[0] + part * half[0], y: centre[1], radius: half[1] }));
}
