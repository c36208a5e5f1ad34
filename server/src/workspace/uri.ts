/** Uris of documents and modules, without a URL class: this layer knows neither Node nor a browser. */

export const librarySchemePrefix = 'springwright-library:/';

/**
 * The uri that `use "path"` in the file `from` means: a bundled module for a bare name (`"alloys"`),
 * a file beside `from` for a path that starts with `./` or `../` or ends in `.spring`.
 */
export function resolveUse(from: string, path: string): string {
  if (isBundledName(path)) return `${librarySchemePrefix}${encodeSegment(path)}.spring`;
  const { root, segments } = split(from);
  const result = segments.slice(0, -1);
  for (const segment of path.replaceAll('\\', '/').split('/')) {
    if (segment === '..') result.pop();
    else if (segment !== '.' && segment !== '') result.push(segment);
  }
  return join(root, result);
}

/** One spelling per document, whatever characters the editor chose to escape: the key under which it is kept. */
export function canonicalUri(uri: string): string {
  const { root, segments } = split(uri);
  return join(root, segments);
}

/** The path that `use` in the file `from` writes for the file `to`; undefined where there is no way from one to the other. */
export function relativeUse(from: string, to: string): string | undefined {
  const [source, target] = [split(from), split(to)];
  if (source.root !== target.root) return undefined;
  const folders = source.segments.slice(0, -1);
  const path = target.segments;
  let shared = 0;
  while (shared < folders.length && shared < path.length - 1 && folders[shared] === path[shared]) shared += 1;
  const up = folders.slice(shared).map(() => '..');
  return [...(up.length === 0 ? ['.'] : up), ...path.slice(shared)].join('/');
}

/** The module's name for a bundled uri (`alloys`), undefined for any other. */
export function bundledName(uri: string): string | undefined {
  if (!uri.startsWith(librarySchemePrefix)) return undefined;
  return decodeSegment(uri.slice(librarySchemePrefix.length)).replace(/\.spring$/, '');
}

function isBundledName(path: string): boolean {
  return !path.includes('/') && !path.includes('\\') && !path.endsWith('.spring');
}

/** `scheme://authority/` or `scheme:/` or `scheme:`, and the decoded path segments after it. */
function split(uri: string): { root: string; segments: string[] } {
  const match = /^([a-z][a-z0-9+.-]*:)(\/\/[^/]*)?(\/)?(.*)$/is.exec(uri);
  if (match === null) return { root: '', segments: uri.split('/').map(decodeSegment) };
  const [, scheme, authority = '', slash = '', path] = match;
  return { root: scheme.toLowerCase() + authority + slash, segments: path.split('/').map(decodeSegment) };
}

function join(root: string, segments: readonly string[]): string {
  return root + segments.map(encodeSegment).join('/');
}

/** As strict as the strictest encoder, so that every spelling of a uri ends up the same. */
function encodeSegment(segment: string): string {
  return encodeURIComponent(segment.replace(/\p{Surrogate}/gu, '\uFFFD')).replace(
    /[!'()*]/g,
    (character) => `%${character.charCodeAt(0).toString(16).toUpperCase()}`,
  );
}

function decodeSegment(segment: string): string {
  try {
    return decodeURIComponent(segment);
  } catch {
    return segment; // A stray percent sign stands for itself.
  }
}
