/** Reads drawings back: a small XML reader, strict enough to find a drawing that is not well formed. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  readonly text: string;
}

export function readXml(source: string): XmlElement {
  const root = { name: '#document', attributes: {}, children: [] as XmlElement[], text: '' };
  const open: { name: string; attributes: Record<string, string>; children: XmlElement[]; text: string }[] = [root];
  const token = /<(\/?)([A-Za-z][\w:-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>|([^<]+)/gy;
  let end = 0;
  for (let match = token.exec(source); match !== null; match = token.exec(source)) {
    end = token.lastIndex;
    const [, closing, name, attributes, selfClosing, text] = match;
    const parent = open[open.length - 1];
    if (text !== undefined) {
      if (/&(?!amp;|lt;|gt;|quot;)/.test(text)) throw new Error(`Unknown entity in "${text}"`);
      parent.text += text
        .replace(/&lt;/g, '<')
        .replace(/&gt;/g, '>')
        .replace(/&quot;/g, '"')
        .replace(/&amp;/g, '&');
    } else if (closing) {
      if (open.pop()?.name !== name) throw new Error(`</${name}> closes nothing`);
    } else {
      const element = {
        name,
        attributes: Object.fromEntries(
          [...attributes.matchAll(/([\w:-]+)="([^"]*)"/g)].map(([, key, value]) => [key, value]),
        ),
        children: [],
        text: '',
      };
      parent.children.push(element);
      if (!selfClosing) open.push(element);
    }
  }
  if (end !== source.length) throw new Error(`Not well formed at ${source.slice(end, end + 60)}`);
  if (open.length !== 1 || root.children.length !== 1) throw new Error('Elements are left open');
  return root.children[0];
}

export function all(root: XmlElement): readonly XmlElement[] {
  return [root, ...root.children.flatMap(all)];
}

/** Elements with every one of the classes. */
export function withClass(root: XmlElement, classes: string): readonly XmlElement[] {
  const wanted = classes.split(' ');
  return all(root).filter(({ attributes }) => {
    const own = (attributes.class ?? '').split(' ');
    return wanted.every((name) => own.includes(name));
  });
}

/** The points of a path of straight lines. */
export function pathPoints(element: XmlElement): readonly (readonly [number, number])[] {
  return [...element.attributes.d.matchAll(/[ML]\s*(-?[\d.]+)[\s,]+(-?[\d.]+)/g)].map(
    ([, x, y]) => [Number(x), Number(y)] as const,
  );
}
