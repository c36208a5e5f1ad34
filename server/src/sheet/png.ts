/** A drawing as pixels. */
import { initWasm, Resvg } from '@resvg/resvg-wasm';

export interface PngParts {
  readonly wasm: Uint8Array;
  /** Without a font its words would be missing. */
  readonly fonts: readonly Uint8Array[];
}

let started: Promise<void> | undefined;

/** @param svg  with its colours written out (drawing/standalone.ts); `scale` pixels for each of its own */
export async function drawingPng(svg: string, scale: number, { wasm, fonts }: PngParts): Promise<Uint8Array> {
  started ??= initWasm(wasm);
  await started;
  const font = {
    fontBuffers: [...fonts],
    defaultFontFamily: 'DejaVu Sans',
    sansSerifFamily: 'DejaVu Sans',
    loadSystemFonts: false,
  };
  const picture = new Resvg(svg, { fitTo: { mode: 'zoom', value: scale }, font }).render();
  try {
    return picture.asPng();
  } finally {
    picture.free();
  }
}
