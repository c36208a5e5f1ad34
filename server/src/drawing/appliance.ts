/** The outline of an appliance to scale with its force system, as one SVG element. */
import type { EngagedState, Outline } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import { apply, type Vec3 } from '#core/math/vector';
import { loadName } from '#model/contacts';
import { effects } from '#model/effects';
import type { ParameterSize } from '#model/parameter-sizes';
import { stockAt, stretches } from '#model/stock';
import { groupFigures } from '#model/tooth-movement';
import { type DrawnAttachment, drawAttachment } from './attachment';
import { drawDimensions } from './dimensions';
import { drawForceSystem, longestArrow, negligible } from './force-system';
import { drawDirections, drawScaleBar, text } from './furniture';
import { type DrawnHandles, drawHandles } from './handles';
import { fontSize, type Label, lineHeight, type Obstacle, type PlacedLabel, placeLabels } from './labels';
import { drawLineNumbers } from './line-numbers';
import { type DrawnLoad, drawLoad } from './load';
import {
  composeScene,
  type DrawableAppliance,
  type DrawingOptions,
  fitScale,
  leavesPlane,
  range,
  type Scene,
} from './scene';
import { drawStepPaths } from './step-paths';
import { drawStress, drawStressScale } from './stress';
import { coordinate, element, escapeText } from './svg';
import { type DrawnGroup, drawToothGroup } from './tooth-group';
import { along, type Projection, project, type View } from './view';
import { drawWire, thickest, visibleThickness } from './wire';
import { amountText, description, drawHeader, pullWords, title } from './words';

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
  const isFlat = !leavesPlane(scene);
  const views = isFlat || options.mainOnly ? [main] : [main, second];
  const { scale, originX } = fitScale(scene, views, options.largestScale);
  const parts: string[] = [];
  const header = drawHeader(scene);
  let top = header.bottom;
  let handles = options.handles ?? [];
  for (const [index, view] of views.entries()) {
    const drawn = drawView(scene, view, !isFlat && views.length === 1, scale, originX, top, handles);
    handles = handles.filter(({ parameter }) => !drawn.handled?.parameters.has(parameter));
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

/** Canvas units per mm of a drawing by itself; undefined where there is no wire to draw. */
export function fittingScale(drawable: DrawableAppliance, options: DrawingOptions = {}): number | undefined {
  const design = drawable.design ?? drawable.appliance.design;
  const { analysis } = drawable;
  if (design === undefined || analysis === undefined || analysis.nominal.stations.length < 2) return undefined;
  const scene = composeScene(drawable, design, analysis, options);
  const { main, second } = scene.views;
  return fitScale(scene, options.mainOnly || !leavesPlane(scene) ? [main] : [main, second]).scale;
}

const footerHeight = 46;
/** Nobody shall take the one view that is shown for everything. */
const unseenWords = 'Wire, forces or moments leave this plane';

function drawView(
  scene: Scene,
  view: View,
  unseen: boolean,
  scale: number,
  originX: number,
  top: number,
  handles: readonly ParameterSize[],
): { svg: string; bottom: number; handled: DrawnHandles | undefined } {
  const { design, state, width } = scene;
  const [low, high] = range(scene.room, view.up);
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
  const groups = drawGroups(scene, attachments, projection);
  const engaged = scene.shapes.find(({ shape }) => shape === 'engaged')?.outline;
  const isMain = view === scene.views.main;
  const stress = state && engaged && scene.showStress ? drawStress(state, design, projection, wireWidth) : undefined;
  const level = top + above + (high - low) * scale + 26;
  const sizes =
    state && isMain && scene.showDimensions
      ? drawDimensions(design, scene.steps, state, places, projection, level)
      : undefined;
  const numbers =
    scene.shapes.filter(({ compared }) => compared).length > 1 ? drawLineNumbers(scene.shapes, projection) : undefined;
  const handled = drawHandlesOf(scene, handles, projection);
  const notes = [
    ...(unseen ? [unseenWords] : []),
    ...(sizes?.usualRadius ? [`Bends have a radius of ${sizes.usualRadius} where none is given`] : []),
  ];
  const labels = [
    ...marks.map(({ label }) => label),
    ...(stress && isMain ? [stress.label] : []),
    ...(sizes?.labels ?? []),
    ...loads.flatMap(({ label }) => (label.lines.length > 0 ? [label] : [])),
    ...groups.map(({ label }) => label),
    ...attachments.map((drawn, index) => nameLabel(scene, drawn, index, view)),
  ];
  const obstacles = [
    ...scene.shapes.flatMap(({ outline }) => wireObstacles(outline, projection, wireWidth)),
    ...[...attachments, ...fittings].flatMap(attachmentObstacles),
    ...marks.flatMap((mark) => mark.obstacles),
    ...(sizes?.obstacles ?? []),
    ...loads.flatMap((load) => load.obstacles),
    ...groups.flatMap((group) => group.obstacles),
    ...furnitureObstacles(width, bottom),
    ...(numbers?.obstacles ?? []),
    ...(handled?.obstacles ?? []),
  ];
  const placed = placeLabels(labels, obstacles, [12, top + 26, width - 12, base + 8]);
  const svg = element(
    'g',
    { class: `view ${view.name}`, 'data-origin': projection.origin.map(coordinate).join(' ') },
    text(24, top + 18, [view.title, ...notes].join('. '), unseen ? 'quiet unseen' : 'quiet'),
    element('g', { class: 'attachments' }, ...[...fittings, ...attachments].map((drawn) => drawn.svg)),
    ...scene.shapes.map(({ shape, outline, made: own, compared }) =>
      drawWire(outline, own, projection, shape, compared?.number),
    ),
    stress?.svg ?? '',
    engaged ? drawStepPaths(scene.steps, engaged, projection, wireWidth) : '',
    sizes?.svg ?? '',
    ...groups.map((group) => group.svg),
    numbers?.svg ?? '',
    element('g', { class: 'loads' }, ...loads.map((load) => load.svg)),
    element('g', { class: 'force-system' }, ...marks.map((mark) => mark.svg)),
    element('g', { class: 'labels' }, ...placed.map(drawLabel)),
    handled?.svg ?? '',
    drawDirections(projection, 30, bottom - 16),
    stress && isMain ? drawStressScale(stress.largest, width / 2 - 65, bottom - 26) : '',
    drawScaleBar(projection, width - 24, bottom - 18),
  );
  return { svg, bottom, handled };
}

/** On the shape that is the wire's own: as engaged where that is shown. */
function drawHandlesOf(
  { shapes, design }: Scene,
  handles: readonly ParameterSize[],
  projection: Projection,
): DrawnHandles | undefined {
  const shown = (['engaged', 'passive', 'neutral', 'nominal'] as const).flatMap(
    (shape) => shapes.find((one) => one.shape === shape) ?? [],
  );
  if (handles.length === 0 || shown.length === 0) return undefined;
  const fixed = Math.min(...design.attachments.map(({ station }) => station));
  return drawHandles(handles, shown[0].outline, Number.isFinite(fixed) ? fixed : 0, projection);
}

/** Centres of resistance, and in the main view of a quadrant how the groups would begin to move. */
function drawGroups(
  { design, state, showForces, views }: Scene,
  attachments: readonly DrawnAttachment[],
  projection: Projection,
): DrawnGroup[] {
  if (!showForces) return [];
  const figures = state ? groupFigures(design, state) : [];
  const tips = projection.view === views.main && projection.view.frame === 'quadrant';
  return design.groups.map((group, k) =>
    drawToothGroup(
      group,
      figures[k],
      group.attachments.map((index) => attachments[index].centre),
      projection,
      tips,
    ),
  );
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

/** The directions on the left and the bar on the right: labels reach a little into their height. */
function furnitureObstacles(width: number, bottom: number): Obstacle[] {
  return [30, 50, 70, 90, width - 110, width - 80, width - 50].map((x) => ({ x, y: bottom - 40, radius: 10 }));
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
