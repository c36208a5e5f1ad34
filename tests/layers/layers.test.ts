/**
 * Dependencies point one way. Read from the text of the import lines, since type-only imports
 * vanish from a bundle.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');

/** A layer, the folder it lives in, the layers it may import and the packages it may import. */
const layers = {
  grammar: { folder: 'grammar/src', layers: [], packages: ['chevrotain'] },
  library: { folder: 'server/library', layers: [], packages: [] },
  core: { folder: 'server/src/core', layers: [], packages: [] },
  model: { folder: 'server/src/model', layers: ['grammar', 'core', 'library'], packages: [] },
  workspace: { folder: 'server/src/workspace', layers: ['grammar', 'core', 'model', 'library'], packages: [] },
  drawing: {
    folder: 'server/src/drawing',
    layers: ['grammar', 'core', 'model', 'workspace'],
    packages: ['d3-scale', 'd3-shape'],
  },
  report: { folder: 'server/src/report', layers: ['grammar', 'core', 'model', 'workspace'], packages: ['zod'] },
  export: {
    folder: 'server/src/export',
    layers: ['grammar', 'core', 'model', 'workspace', 'drawing'],
    packages: ['@tarikjabiri/dxf'],
  },
  sheet: {
    folder: 'server/src/sheet',
    layers: ['core', 'model', 'drawing', 'report', 'export'],
    packages: ['pdfkit', '@resvg/resvg-wasm'],
  },
  features: {
    folder: 'server/src/features',
    layers: ['grammar', 'core', 'model', 'workspace', 'drawing', 'report'],
    packages: ['vscode-languageserver-types', 'vscode-languageserver-textdocument'],
  },
  host: { folder: 'server/src/host', layers: ['workspace'], packages: ['node:', 'tinyglobby'] },
  preview: {
    folder: 'server/src/preview',
    layers: ['grammar', 'core', 'model', 'workspace', 'drawing', 'report', 'features'],
    packages: [],
  },
  lsp: {
    folder: 'server/src/lsp',
    layers: ['grammar', 'core', 'model', 'workspace', 'drawing', 'report', 'export', 'sheet', 'features', 'preview'],
    packages: ['vscode-languageserver', 'vscode-languageserver-types', 'vscode-languageserver-textdocument'],
  },
  cli: {
    folder: 'server/src/cli',
    layers: ['grammar', 'core', 'model', 'workspace', 'drawing', 'report', 'export', 'sheet', 'host'],
    packages: ['node:', 'commander'],
  },
} as const satisfies Record<string, { folder: string; layers: readonly string[]; packages: readonly string[] }>;

type Layer = keyof typeof layers;

const pure: readonly Layer[] = [
  'grammar',
  'library',
  'core',
  'model',
  'workspace',
  'drawing',
  'report',
  'export',
  'features',
  'preview',
];

interface Import {
  readonly file: string;
  readonly from: Layer;
  readonly specifier: string;
  readonly to: Layer | undefined;
}

const imports = (Object.keys(layers) as Layer[]).flatMap((layer) =>
  readdirSync(join(root, layers[layer].folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .flatMap((name) => importsOf(layer, join(root, layers[layer].folder, name))),
);

describe('layers', () => {
  it('reads imports from every layer that has code', () => {
    expect(imports.length).toBeGreaterThan(100);
  });

  it('import only what lies below them', () => {
    const offending = imports.filter(({ from, to }) => to !== undefined && to !== from && !allows(from, to));
    expect(offending.map(describeImport)).toEqual([]);
  });

  it('import only their own packages', () => {
    const offending = imports.filter(
      ({ from, specifier, to }) =>
        to === undefined &&
        !layers[from].packages.some((name) =>
          name.endsWith(':') ? specifier.startsWith(name) : specifier === name || specifier.startsWith(`${name}/`),
        ),
    );
    expect(offending.map(describeImport)).toEqual([]);
  });

  it('keep the pure ones free of ambient globals of a runtime', () => {
    const config = readFileSync(join(root, 'tsconfig.pure.json'), 'utf8');
    for (const layer of pure) expect(config).toContain(`"${layers[layer].folder}"`);
    expect(readFileSync(join(root, 'tsconfig.base.json'), 'utf8')).toContain('"types": []');
  });

  it('have no cycle of files at run time', () => {
    expect(firstCycle(imports)).toBeUndefined();
  });
});

function allows(from: Layer, to: Layer): boolean {
  return (layers[from].layers as readonly string[]).includes(to);
}

function describeImport({ file, specifier }: Import): string {
  return `${relative(root, file)} imports ${specifier}`;
}

function importsOf(from: Layer, file: string): Import[] {
  const text = readFileSync(file, 'utf8');
  const found = text.matchAll(/^\s*(?:import|export)\b(?:[^'"`;]*?\bfrom\s*)?\s*['"]([^'"]+)['"]/gm);
  return [...found].map(([, specifier]) => ({ file, from, specifier, to: layerOf(from, file, specifier) }));
}

function layerOf(from: Layer, file: string, specifier: string): Layer | undefined {
  if (specifier === '#library') return 'library';
  const alias = /^#([a-z]+)\//.exec(specifier)?.[1];
  if (alias !== undefined && alias in layers) return alias as Layer;
  if (!specifier.startsWith('.')) return undefined;
  const target = resolve(dirname(file), specifier);
  return (Object.keys(layers) as Layer[]).find((layer) => target.startsWith(join(root, layers[layer].folder))) ?? from;
}

/** A chain of relative or aliased value imports that comes back to its start; type-only imports do not run. */
function firstCycle(all: readonly Import[]): string | undefined {
  const edges = new Map<string, string[]>();
  for (const { file } of all) {
    if (edges.has(file)) continue;
    const text = readFileSync(file, 'utf8');
    const targets = [...text.matchAll(/^\s*(?:import|export)\s+(?!type\b)(?:[^'"`;]*?\bfrom\s*)?['"]([^'"]+)['"]/gm)]
      .map(([, specifier]) => resolveFile(file, specifier))
      .filter((target) => target !== undefined);
    edges.set(file, targets);
  }
  const done = new Set<string>();
  const visit = (file: string, trail: readonly string[]): string | undefined => {
    if (trail.includes(file))
      return [...trail.slice(trail.indexOf(file)), file].map((f) => relative(root, f)).join(' > ');
    if (done.has(file)) return undefined;
    for (const next of edges.get(file) ?? []) {
      const cycle = visit(next, [...trail, file]);
      if (cycle !== undefined) return cycle;
    }
    done.add(file);
    return undefined;
  };
  for (const file of edges.keys()) {
    const cycle = visit(file, []);
    if (cycle !== undefined) return cycle;
  }
  return undefined;
}

function resolveFile(file: string, specifier: string): string | undefined {
  const alias = /^#([a-z]+)\/(.+)$/.exec(specifier);
  if (alias !== null && alias[1] in layers) return join(root, layers[alias[1] as Layer].folder, `${alias[2]}.ts`);
  return specifier.startsWith('.') ? `${resolve(dirname(file), specifier)}.ts` : undefined;
}
