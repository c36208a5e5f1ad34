// Renders the extension's icon, since its package takes no SVG: `node client/icons/render.mjs`.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { initWasm, Resvg } from '@resvg/resvg-wasm';

const here = import.meta.dirname;
await initWasm(readFileSync(path.resolve(here, '../../node_modules/@resvg/resvg-wasm/index_bg.wasm')));
const picture = new Resvg(readFileSync(path.join(here, 'extension.svg'), 'utf8')).render();
writeFileSync(path.join(here, 'extension.png'), picture.asPng());
