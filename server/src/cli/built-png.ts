/** A drawing as pixels, with the renderer and the fonts that lie beside the program. */
import type { CliHost } from './run-report';

/** @param scale  pixels for each of the drawing's own */
export async function drawnPixels(svg: string, scale: number, host: CliHost): Promise<Uint8Array> {
  const { drawingPng } = await import('#sheet/png');
  const [wasm, ...fonts] = await Promise.all(
    ['resvg.wasm', 'DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map(host.readBuilt),
  );
  return drawingPng(svg, scale, { wasm, fonts });
}
