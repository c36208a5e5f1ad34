/**
 * A stand-alone drawing taken apart: its shapes and words from the back to the front, each with the colours and strokes that the
 * drawing's own style sheet gives it. It reads the markup that this program writes, no more of SVG and of CSS than that.
 */

export interface DrawingMarks {
  /** Of the canvas, in its own units. */
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
}

export type Mark = { readonly look: Look; readonly moves: readonly Move[] } & (
  | { readonly kind: 'path'; readonly d: string }
  | {
      readonly kind: 'rect';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly radius: number;
    }
  | { readonly kind: 'circle'; readonly x: number; readonly y: number; readonly radius: number }
  | { readonly kind: 'text'; readonly x: number; readonly y: number; readonly text: string }
);

export interface Look {
  /** `#rrggbb`; undefined where there is none. */
  readonly fill: string | undefined;
  readonly stroke: string | undefined;
  readonly strokeWidth: number;
  readonly opacity: number;
  readonly dash: readonly number[];
  readonly cap: 'butt' | 'round';
  readonly join: 'miter' | 'round';
  readonly fontSize: number;
  readonly bold: boolean;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** Of what surrounds a mark, the outermost first: a translation in canvas units, or a turn in degrees. */
export type Move =
  | { readonly kind: 'translate'; readonly by: readonly [number, number] }
  | { readonly kind: 'rotate'; readonly angle: number };

/** @param svg  a whole SVG file as `standaloneDrawing` writes it */
export function drawingMarks(svg: string): DrawingMarks {
  const rules = styleRules(/<style>([^<]*)<\/style>/.exec(svg)?.[1] ?? '');
  const marks: Mark[] = [];
  let size: readonly number[] = [0, 0, 0, 0];
  const open: Element[] = [];
  const token = /<(\/?)([a-z]+)((?:\s+[\w:-]+="[^"]*")*)\s*(\/?)>|([^<]+)/g;
  for (const [, closing, name, written, selfClosing, text] of svg.matchAll(token)) {
    const around = open.at(-1);
    if (text !== undefined) {
      if (around?.name !== 'text') continue;
      const { x, y } = numbers(around.attributes);
      marks.push({ kind: 'text', x, y, text: plainText(text), ...around.dressed });
    } else if (closing) open.pop();
    else {
      const attributes = Object.fromEntries(
        [...written.matchAll(/([\w:-]+)="([^"]*)"/g)].map(([, key, value]) => [key, value]),
      );
      if (name === 'svg') size = attributes.viewBox.split(' ').map(Number);
      const classes = (attributes.class ?? '').split(' ');
      const element = dress({ name, classes, attributes }, open, rules);
      const mark = markOf(element);
      if (mark) marks.push(mark);
      if (!selfClosing) open.push(element);
    }
  }
  return { width: size[2], height: size[3], marks: marks.filter(({ look }) => look.fill || look.stroke) };
}

interface Bare {
  readonly name: string;
  readonly classes: readonly string[];
  readonly attributes: Readonly<Record<string, string>>;
}

interface Element extends Bare {
  /** What holds for it and, its opacity aside, for what is in it. */
  readonly style: Readonly<Record<string, string>>;
  readonly dressed: { readonly look: Look; readonly moves: readonly Move[] };
}

interface Rule {
  /** Each a chain of simple selectors, the outermost first: a name, or classes. */
  readonly chain: readonly { readonly name: string; readonly classes: readonly string[] }[];
  readonly weight: number;
  readonly style: Readonly<Record<string, string>>;
}

function styleRules(css: string): readonly Rule[] {
  const rules = [...css.matchAll(/([^{}]+)\{([^{}]*)\}/g)].flatMap(([, selectors, body]) => {
    const style = Object.fromEntries(
      [...body.matchAll(/([\w-]+):\s*([^;]+);/g)].map(([, property, value]) => [property, value.trim()]),
    );
    return selectors
      .split(',')
      .map((selector) => selector.trim())
      .filter((selector) => !selector.includes(':'))
      .map((selector): Rule => {
        const chain = selector.split(/\s+/).map((simple) => {
          const [name, ...classes] = simple.split('.');
          return { name, classes };
        });
        const weight = chain.reduce((sum, { name, classes }) => sum + 10 * classes.length + (name ? 1 : 0), 0);
        return { chain, weight, style };
      });
  });
  return rules.sort((a, b) => a.weight - b.weight);
}

const INHERITED = [
  'color',
  'fill',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'font-size',
  'font-weight',
  'text-anchor',
];

function dress(bare: Bare, open: readonly Element[], rules: readonly Rule[]): Element {
  const around = open.at(-1);
  const lineage = [...open, bare];
  const matching = rules.filter(({ chain }) => matches(chain, lineage));
  const own = { ...bare.attributes, ...Object.assign({}, ...matching.map(({ style }) => style)) };
  const inherited = Object.fromEntries(
    INHERITED.flatMap((property) => {
      const value = own[property] ?? around?.style[property];
      return value === undefined ? [] : [[property, value]];
    }),
  );
  const opacity = Number(own.opacity ?? 1) * (around?.dressed.look.opacity ?? 1);
  const moves = [...(around?.dressed.moves ?? []), ...movesOf(bare.attributes.transform ?? '')];
  return { ...bare, style: inherited, dressed: { look: lookOf(inherited, opacity), moves } };
}

/** The last simple selector is of the element itself, the others of any around it, in order. */
function matches(chain: Rule['chain'], lineage: readonly Bare[]): boolean {
  const fits = ({ name, classes }: Rule['chain'][number], element: Bare): boolean =>
    (name === '' || name === element.name) && classes.every((one) => element.classes.includes(one));
  const last = chain.length - 1;
  if (!fits(chain[last], lineage[lineage.length - 1])) return false;
  let wanted = last - 1;
  for (let k = lineage.length - 2; k >= 0 && wanted >= 0; k--) if (fits(chain[wanted], lineage[k])) wanted -= 1;
  return wanted < 0;
}

function lookOf(style: Readonly<Record<string, string>>, opacity: number): Look {
  const paint = (value: string): string | undefined => {
    const colour = value === 'currentColor' ? (style.color ?? '#000000') : value;
    return colour === 'none' || colour === 'transparent' ? undefined : colour;
  };
  return {
    fill: paint(style.fill ?? '#000000'),
    stroke: paint(style.stroke ?? 'none'),
    strokeWidth: Number.parseFloat(style['stroke-width'] ?? '1'),
    opacity,
    dash: (style['stroke-dasharray'] ?? '').split(/[\s,]+/).flatMap((part) => (part === '' ? [] : [Number(part)])),
    cap: style['stroke-linecap'] === 'round' ? 'round' : 'butt',
    join: style['stroke-linejoin'] === 'round' ? 'round' : 'miter',
    fontSize: Number.parseFloat(style['font-size'] ?? '12'),
    bold: Number(style['font-weight'] ?? 400) >= 600,
    anchor: style['text-anchor'] === 'middle' || style['text-anchor'] === 'end' ? style['text-anchor'] : 'start',
  };
}

function movesOf(transform: string): readonly Move[] {
  return [...transform.matchAll(/(translate|rotate)\(([^)]*)\)/g)].map(([, kind, written]): Move => {
    const [first, second = 0] = written.split(/[\s,]+/).map(Number);
    return kind === 'rotate' ? { kind, angle: first } : { kind: 'translate', by: [first, second] };
  });
}

function markOf({ name, attributes, dressed }: Element): Mark | undefined {
  const { x, y, width, height, rx, cx, cy, r } = numbers(attributes);
  switch (name) {
    case 'path':
      return { kind: 'path', d: attributes.d, ...dressed };
    case 'rect':
      return { kind: 'rect', x, y, width, height, radius: rx, ...dressed };
    case 'circle':
      return { kind: 'circle', x: cx, y: cy, radius: r, ...dressed };
    default:
      return undefined;
  }
}

/** 0 where it is not written, as SVG has it. */
function numbers(attributes: Readonly<Record<string, string>>) {
  const read = (key: string): number => Number(attributes[key] ?? 0);
  return {
    x: read('x'),
    y: read('y'),
    width: read('width'),
    height: read('height'),
    rx: read('rx'),
    cx: read('cx'),
    cy: read('cy'),
    r: read('r'),
  };
}

function plainText(markup: string): string {
  return markup.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');
}
