/** SVG as text. Presentation attributes and classes only: a strict content security policy blocks inline styles. */
export function element(
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  ...children: readonly string[]
): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escapeText(value as string)}"`)
    .join('');
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join('')}</${name}>`;
}

/** Text content with the characters escaped that XML reserves, and those removed that XML 1.0 does not allow. */
export function escapeText(text: string): string {
  if (plain.test(text)) return text;
  return (
    text
      // biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0 allows none of these.
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll('"', '&quot;')
  );
}

/** As nearly everything is, above all long paths. */
const plain = /^[ !#-%'-;=?-~]*$/;

/** A canvas coordinate to a hundredth. */
export function coordinate(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/** `d` of an open polyline. */
export function polyline(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${coordinate(x)} ${coordinate(y)}`).join('');
}
