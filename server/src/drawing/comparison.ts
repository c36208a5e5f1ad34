/** Several appliances, or two revisions of one, in one drawing: laid over each other, or side by side to the same scale. */
import type { UnitPreferences } from '#core/units/format';
import { drawAppliance, fittingScale } from './appliance';
import type { DrawableAppliance, DrawingOptions } from './scene';
import { element } from './svg';

/** Both revisions of one appliance; one is absent where the appliance is new or gone. */
export interface RevisionPair {
  readonly name: string;
  readonly before: DrawableAppliance | undefined;
  readonly after: DrawableAppliance | undefined;
}

export type ComparisonLayout = 'overlay' | 'beside';

/**
 * One row for each appliance. Laid over: the later one full, with its forces, the earlier one as a dashed and dotted
 * line. Undefined where there is no wire to draw.
 */
export function drawComparison(
  pairs: readonly RevisionPair[],
  layout: ComparisonLayout,
  units: UnitPreferences,
): string | undefined {
  const rows = pairs.map((pair) => rowOf(pair, layout, units)).filter((row) => row.length > 0);
  return rows.length > 0 ? stacked(rows) : undefined;
}

/**
 * Each by itself in rows of equal parts of the canvas, to one scale; the first has its place in the canvas' corner, and its handles.
 * Undefined where there is no wire to draw.
 */
export function drawBeside(
  appliances: readonly { readonly drawable: DrawableAppliance; readonly options: DrawingOptions }[],
  width: number,
): string | undefined {
  const columns = Math.max(1, Math.min(appliances.length, Math.floor(width / leastWidth)));
  const own = Math.max(width / columns, leastCanvas);
  const scales = appliances.flatMap(
    ({ drawable, options }) => fittingScale(drawable, { ...options, width: own }) ?? [],
  );
  const largestScale = Math.min(...scales);
  const drawn = appliances.flatMap(({ drawable, options }) => {
    const svg = drawAppliance(drawable, { ...options, width: own, largestScale });
    return svg === undefined ? [] : [sized(svg)];
  });
  if (drawn.length === 0) return undefined;
  const rows = Array.from({ length: Math.ceil(drawn.length / columns) }, (_, k) =>
    drawn.slice(k * columns, (k + 1) * columns),
  );
  return stacked(rows, largestScale);
}

/** Part of the canvas that a drawing needs beside others, and canvas that it is drawn on at least. */
const leastWidth = 360;
const leastCanvas = 540;

function rowOf(
  { name, before, after }: RevisionPair,
  layout: ComparisonLayout,
  units: UnitPreferences,
): readonly Drawing[] {
  const draw = (revision: DrawableAppliance | undefined, word: string, options: DrawingOptions = {}): Drawing[] => {
    const svg = revision && drawAppliance(called(`${name}: ${word}`, revision), { units, ...options });
    return svg === undefined ? [] : [sized(svg)];
  };
  if (before === undefined) return draw(after, 'new');
  if (after === undefined) return draw(before, 'gone');
  if (layout === 'beside') return toOneScale([...draw(before, 'before'), ...draw(after, 'after')]);
  const laid = draw(after, 'after', { over: [called('before', before)], show: { neutral: false } });
  return laid.length > 0 ? laid : draw(before, 'before');
}

function called(name: string, revision: DrawableAppliance): DrawableAppliance {
  return { ...revision, appliance: { ...revision.appliance, name } };
}

interface Drawing {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  /** Canvas units per mm. */
  readonly scale: number;
}

function sized(svg: string): Drawing {
  const [, , width, height] = (/viewBox="([^"]*)"/.exec(svg)?.[1] ?? '').split(' ').map(Number);
  return { svg, width, height, scale: Number(/data-scale="([^"]*)"/.exec(svg)?.[1]) };
}

function toOneScale(drawings: readonly Drawing[]): readonly Drawing[] {
  const scale = Math.min(...drawings.map((drawing) => drawing.scale));
  return drawings.map((drawing) => {
    const part = scale / drawing.scale;
    return { ...drawing, width: part * drawing.width, height: part * drawing.height, scale };
  });
}

/** `scale` where all of them have the same. */
function stacked(rows: readonly (readonly Drawing[])[], scale?: number): string {
  const width = Math.max(...rows.map((row) => row.reduce((sum, drawing) => sum + drawing.width, 0)));
  const placed: string[] = [];
  let top = 0;
  for (const row of rows) {
    let left = 0;
    for (const { svg, width: wide, height } of row) {
      placed.push(svg.replace('<svg ', `<svg x="${left}" y="${top}" width="${wide}" height="${height}" `));
      left += wide;
    }
    top += Math.max(...row.map(({ height }) => height));
  }
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'springwright-drawing',
      viewBox: `0 0 ${width} ${top}`,
      'data-scale': scale,
    },
    element('rect', { class: 'ground', x: 0, y: 0, width, height: top }),
    ...placed,
  );
}
