/** Bands for the report: figures under their names, in the report's units, with what makes most of them. */
import type { Triple } from '#core/analysis/figures';
import type { Band } from '#core/analysis/uncertainty';
import type { ApplianceDesign } from '#core/design';
import { formatQuantity } from '#core/units/format';
import { type Bands, leading } from '#model/bands';
import type { ScatteredSize } from '#model/scattered-sizes';
import { rounded } from './rounded';
import type { ReportBand, ReportBands } from './schema';
import type { TextPosition } from './text-position';

export function reportBands(
  bands: Bands,
  { attachments, loops }: ApplianceDesign,
  at: (offset: number) => TextPosition,
): ReportBands {
  const figures = bands.bands;
  const report = (band: Band, factor = 1): ReportBand => reportBand(band, bands, factor);
  const triple = ([mesial, gingival, buccal]: Triple<Band>) => ({
    mesial: report(mesial),
    gingival: report(gingival),
    buccal: report(buccal),
  });
  return {
    activation: rounded(bands.activation),
    parameters: bands.sizes.map((size) => reportParameter(size, at)),
    loads: figures.wrenches.map(({ force, moment }, index) => ({
      attachment: attachments[index].name,
      force: triple(force),
      moment: triple(moment),
    })),
    loops: figures.loops.map(({ legGap, legAngle }, index) => ({
      name: loops[index].name,
      legGap: report(legGap),
      legAngle: report(legAngle, 180 / Math.PI),
    })),
    neutral: figures.neutral === undefined ? null : report(figures.neutral),
    stiffness: figures.stiffness === undefined ? null : report(figures.stiffness),
    stress: report(figures.stress),
    elasticUse: report(figures.elasticUse),
    wires: bands.wires,
  };
}

function reportBand(band: Band, bands: Bands, factor: number): ReportBand {
  return {
    low: rounded(factor * band.low),
    high: rounded(factor * band.high),
    method: band.method,
    contributions: leading(band, bands).map(({ size, change, share }) => ({
      parameter: bands.sizes.indexOf(size),
      change: rounded(factor * change),
      share: rounded(share),
    })),
  };
}

function reportParameter(
  { label, scatter, dimension, pathSpan, state, reference }: ScatteredSize,
  at: (offset: number) => TextPosition,
): ReportBands['parameters'][number] {
  const [low, high] = [scatter.low, scatter.high].map((value) => formatQuantity({ value, dimension }));
  return {
    label,
    line: pathSpan === undefined ? null : at(pathSpan.start).line,
    ...{ low, high, state, reference: reference ?? null },
  };
}
