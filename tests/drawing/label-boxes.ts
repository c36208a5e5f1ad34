import { labelWidth } from '#drawing/labels';
import { withClass, type XmlElement } from './svg-reading';

type Box = readonly [left: number, top: number, right: number, bottom: number];

/** The boxes of a drawing's labels, the pairs that cover each other and those that leave the canvas. */
export function labelBoxes(root: XmlElement): {
  readonly boxes: readonly Box[];
  readonly covered: readonly string[];
  readonly outside: readonly string[];
} {
  const [, , width, height] = root.attributes.viewBox.split(' ').map(Number);
  const labels = withClass(root, 'label').map((label) => {
    const lines = label.children.filter(({ name, attributes }) => name === 'text' && attributes.class !== 'halo');
    const half = labelWidth(lines.map(({ text }) => text)) / 2;
    const x = Number(lines[0].attributes.x);
    const ys = lines.map(({ attributes }) => Number(attributes.y));
    // Letters of the 12 unit font reach about 10 above and 3 below their base line.
    const box: Box = [x - half, Math.min(...ys) - 10, x + half, Math.max(...ys) + 3];
    return { text: lines.map(({ text }) => text).join(' '), box };
  });
  return {
    boxes: labels.map(({ box }) => box),
    covered: labels.flatMap(({ text, box: a }, index) =>
      labels
        .slice(index + 1)
        .filter(({ box: b }) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3])
        .map((other) => `${text} / ${other.text}`),
    ),
    outside: labels
      .filter(({ box: [left, top, right, bottom] }) => left < 0 || top < 0 || right > width || bottom > height)
      .map(({ text }) => text),
  };
}
