/**
 * A drawing as a file of its own: it carries its colours, since no page around it does, and written out, since few readers
 * of SVG know variables.
 */
import { drawingCss } from './drawing.css';
import { escapeText } from './svg';

export type Theme = 'light' | 'dark';

export function standaloneDrawing(svg: string, theme: Theme = 'light'): string {
  const end = svg.indexOf('>') + 1;
  // Readers that go by pixels take the canvas's own.
  const [, , width, height] = (/viewBox="([^"]*)"/.exec(svg)?.[1] ?? '').split(' ');
  const opening = svg
    .slice(0, end)
    .replace('class="springwright-drawing', `class="springwright-drawing ${theme}`)
    .replace('<svg ', width && height ? `<svg width="${width}" height="${height}" ` : '<svg ');
  const style = `<style>${escapeText(plainCss(theme)).replaceAll('&quot;', '"')}</style>`;
  return `<?xml version="1.0" encoding="UTF-8"?>\n${opening}${style}${svg.slice(end)}\n`;
}

/**
 * The same with its size on paper: a whole number of times the appliance's own, and no wider than a page. Programs that place
 * or print it keep that.
 */
export function onPaper(file: string): string {
  const [, , width, height] = (/viewBox="([^"]*)"/.exec(file)?.[1] ?? '').split(' ').map(Number);
  const scale = Number(/data-scale="([^"]*)"/.exec(file)?.[1]);
  if (!(width > 0 && scale > 0)) return file;
  const times = Math.max(1, Math.floor((PAGE * scale) / width));
  const size = (pixels: number): string => `${Number(((pixels / scale) * times).toFixed(3))}mm`;
  return file.replace(/ width="[^"]*" height="[^"]*"/, ` width="${size(width)}" height="${size(height)}"`);
}

/** What a page of any usual paper has room for, mm. */
const PAGE = 180;

/** The style sheet with its variables written out, of an editor's theme nothing but the fallbacks. */
function plainCss(theme: Theme): string {
  const rules = [...drawingCss.matchAll(/([^{}]+)\{([^{}]*)\}/g)].map(([, selector, body]) => ({
    selector: selector.trim(),
    body: body.trim(),
  }));
  const variables = new Map<string, string>();
  for (const { selector, body } of rules) {
    const isShared = selector === '.springwright-drawing';
    if (isShared || (theme === 'dark' && selector.includes('.springwright-drawing.dark'))) define(body, variables);
  }
  return rules
    .flatMap(({ selector, body }) => {
      if (selector.includes('.vscode-') || selector.includes('.dark')) return [];
      const own = new Map(variables);
      define(body, own);
      const declarations = body
        .split(';')
        .map((one) => one.trim())
        .filter((one) => one !== '' && !one.startsWith('--'))
        .map((one) => `${resolved(one, own)};`);
      return declarations.length > 0 ? [`${selector} { ${declarations.join(' ')} }`] : [];
    })
    .join('\n');
}

function define(body: string, variables: Map<string, string>): void {
  for (const [, name, value] of body.matchAll(/(--[\w-]+):\s*([^;]+);/g)) variables.set(name, value.trim());
}

function resolved(value: string, variables: ReadonlyMap<string, string>): string {
  return value.replace(/var\((--[\w-]+)(?:,\s*([^()]*))?\)/g, (_, name: string, fallback: string | undefined) =>
    resolved(variables.get(name) ?? fallback ?? '', variables),
  );
}
