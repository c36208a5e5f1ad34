/** Places labels beside what they name, clear of the wire, the arrows, each other and the canvas edge. */

export interface Label {
  readonly class: string;
  /** First line strong, the others in words. */
  readonly lines: readonly string[];
  /** Where it belongs. */
  readonly anchor: readonly [number, number];
  /** Preferred side, canvas direction away from the anchor; y down. */
  readonly toward: readonly [number, number];
  /** Clear distance from the anchor where there is room. */
  readonly distance: number;
}

export interface PlacedLabel {
  readonly label: Label;
  /** Left, top, right, bottom. */
  readonly box: Box;
}

export type Box = readonly [number, number, number, number];

/** Something a label should not cover: a point with a radius. */
export interface Obstacle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

export const lineHeight = 15;
export const fontSize = 12;

/** Places labels in order; each takes the cheapest of its candidate places given those before it. */
export function placeLabels(
  labels: readonly Label[],
  obstacles: readonly Obstacle[],
  canvas: Box,
): readonly PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  for (const label of labels) {
    let best: Box | undefined;
    let lowest = Number.POSITIVE_INFINITY;
    for (const [rank, box] of candidates(label).entries()) {
      // Candidates come by preference: none after this one can cost less.
      if (rank * 0.2 >= lowest) break;
      const cost = rank * 0.2 + price(box, placed, obstacles, canvas);
      if (cost < lowest) {
        lowest = cost;
        best = box;
      }
    }
    if (best !== undefined) placed.push({ label, box: best });
  }
  return placed;
}

/**
 * Width of a line on the canvas. There is no font to ask, so classes of letters stand for the widths of common
 * sans-serif faces, on the wide side.
 */
export function textWidth(text: string): number {
  let em = 0;
  for (const letter of text) {
    if (/[ilj.,:;'|!()]/.test(letter)) em += 0.32;
    else if (/[frt\s-]/.test(letter)) em += 0.4;
    else if (/[mwMW%]/.test(letter)) em += 0.92;
    else if (/[A-Z]/.test(letter)) em += 0.7;
    else em += 0.59;
  }
  return em * fontSize;
}

/** Width of a label whose first line is strong, on the canvas. */
export function labelWidth([first, ...others]: readonly string[]): number {
  return Math.max(STRONG * textWidth(first), ...others.map(textWidth));
}

/** Strong letters are wider, by about an eighth in common sans-serif faces. */
const STRONG = 1.13;

/** Turns and distances tried, the preferred side first. */
function candidates(label: Label): Box[] {
  const width = labelWidth(label.lines);
  const height = label.lines.length * lineHeight;
  const length = Math.hypot(...label.toward) || 1;
  const preferred = Math.atan2(label.toward[1] / length, label.toward[0] / length);
  const boxes: Box[] = [];
  for (const extra of [0, 8, 18, 30, 44, 60, 80, 104]) {
    for (const turn of [0, 0.4, -0.4, 0.8, -0.8, 1.2, -1.2, 1.6, -1.6, 2.1, -2.1, 2.6, -2.6, Math.PI]) {
      const x = Math.cos(preferred + turn);
      const y = Math.sin(preferred + turn);
      // Distance from the box's centre to its edge along this direction, so that the clear distance is kept.
      const half = Math.min(width / 2 / Math.max(Math.abs(x), 1e-9), height / 2 / Math.max(Math.abs(y), 1e-9));
      const centreX = label.anchor[0] + x * (label.distance + extra + half);
      const centreY = label.anchor[1] + y * (label.distance + extra + half);
      boxes.push([centreX - width / 2, centreY - height / 2, centreX + width / 2, centreY + height / 2]);
    }
  }
  return boxes;
}

function price(box: Box, placed: readonly PlacedLabel[], obstacles: readonly Obstacle[], canvas: Box): number {
  let cost = 0;
  if (box[0] < canvas[0] || box[1] < canvas[1] || box[2] > canvas[2] || box[3] > canvas[3]) cost += 10_000;
  for (const { box: other } of placed) {
    const wide = Math.min(box[2], other[2]) - Math.max(box[0], other[0]) + 6;
    const high = Math.min(box[3], other[3]) - Math.max(box[1], other[1]) + 2;
    if (wide > 0 && high > 0) cost += 100 + wide * high;
  }
  for (const { x, y, radius } of obstacles) {
    if (x + radius > box[0] && x - radius < box[2] && y + radius > box[1] && y - radius < box[3]) cost += 4;
  }
  return cost;
}
