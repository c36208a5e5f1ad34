/** Everything that an appliance can be written to, as the bytes of a file. */
import { drawAppliance } from '#drawing/appliance';
import { onPaper, standaloneDrawing } from '#drawing/standalone';
import { curvesCsv, shapesCsv } from '#export/csv';
import type { DrawFormat, ExportFormat } from '#export/formats';
import { shapesAndCurvesJson } from '#export/json';
import { shapesDxf } from '#export/outline-dxf';
import { type ShapeName, shapesOf } from '#export/shapes';
import { actualSize, type Template } from '#export/template';
import { templateSvg } from '#export/template-svg';
import { activationCurves } from '#model/activation-curves';
import { makeSheet } from './sheet';
import type { SheetInput } from './sheet-input';
import { templatePdf } from './template-pdf';

export type ExportInput = Omit<SheetInput, 'card'> & { readonly format: ExportFormat; readonly shape?: ShapeName };

/** Undefined where there is nothing of that kind: no curves where nothing is activated. */
export async function exportedFile(input: ExportInput): Promise<Uint8Array | undefined> {
  const { format } = input;
  if (format === 'sheet' || format === 'card') return makeSheet({ ...input, card: format === 'card' });
  if (format === 'template-pdf') {
    const one = templateOf(input);
    return one && templatePdf(one.template, { title: one.title, creator: `Springwright ${input.version}` });
  }
  const text = drawn(input, format);
  return text === undefined ? undefined : new TextEncoder().encode(text);
}

function templateOf({
  evaluated,
  activation,
  shape,
}: ExportInput): { readonly template: Template; readonly title: string } | undefined {
  const { name: title, site } = evaluated.appliance;
  const shapes = shapesOf(evaluated, activation);
  const one = shapes.find(({ name }) => name === (shape ?? 'passive')) ?? shapes[0];
  return one && { template: actualSize(one, site), title: `${title}, ${one.name}` };
}

function drawn(input: ExportInput, format: Exclude<DrawFormat, 'template-pdf'>): string | undefined {
  const { evaluated, text, activation, units } = input;
  const { appliance } = evaluated;
  const shapes = shapesOf(evaluated, activation);
  switch (format) {
    case 'svg': {
      const svg = drawAppliance(evaluated, { activation, units });
      return svg && onPaper(standaloneDrawing(svg));
    }
    case 'template': {
      const one = templateOf(input);
      return one && templateSvg(one.template, one.title);
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
