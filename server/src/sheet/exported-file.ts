/** Everything that an appliance can be written to, as the bytes of a file. */
import { drawAppliance } from '#drawing/appliance';
import { standaloneDrawing } from '#drawing/standalone';
import { curvesCsv, shapesCsv } from '#export/csv';
import type { DrawFormat, ExportFormat } from '#export/formats';
import { shapesAndCurvesJson } from '#export/json';
import { shapesDxf } from '#export/outline-dxf';
import { type ShapeName, shapesOf } from '#export/shapes';
import { actualSize } from '#export/template';
import { templateSvg } from '#export/template-svg';
import { activationCurves } from '#model/activation-curves';
import { makeSheet } from './sheet';
import type { SheetInput } from './sheet-input';

export type ExportInput = Omit<SheetInput, 'card'> & { readonly format: ExportFormat; readonly shape?: ShapeName };

/** Undefined where there is nothing of that kind: no curves where nothing is activated. */
export async function exportedFile(input: ExportInput): Promise<Uint8Array | undefined> {
  const { format } = input;
  if (format === 'sheet' || format === 'card') return makeSheet({ ...input, card: format === 'card' });
  const text = drawn(input, format);
  return text === undefined ? undefined : new TextEncoder().encode(text);
}

function drawn({ evaluated, text, activation, units, shape }: ExportInput, format: DrawFormat): string | undefined {
  const { appliance } = evaluated;
  const shapes = shapesOf(evaluated, activation);
  switch (format) {
    case 'svg': {
      const svg = drawAppliance(evaluated, { activation, units });
      return svg && standaloneDrawing(svg);
    }
    case 'template': {
      const one = shapes.find(({ name }) => name === (shape ?? 'passive')) ?? shapes[0];
      return one && templateSvg(actualSize(one, appliance.site), `${appliance.name}, ${one.name}`);
    }
    case 'dxf':
      return shapesDxf(shapes);
    case 'shapes':
      return shapesCsv(shapes);
    case 'json':
      return shapesAndCurvesJson(appliance.name, shapes, activationCurves(evaluated, text));
    case 'curves': {
      const curves = activationCurves(evaluated, text);
      return curves && curvesCsv(curves);
    }
  }
}
