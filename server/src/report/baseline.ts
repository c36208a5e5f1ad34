/** Figures of the appliances in a file, written down to compare later ones with: one a line, so that a change is a line of a diff. */
import { z } from 'zod';
import type { UnitPreferences } from '#core/units/format';
import { type ApplianceFigures, type Figure, SMALLEST_CHANGE } from './comparison';
import { rounded } from './rounded';

export interface Baseline {
  /** Those that its texts are written in. */
  readonly units: UnitPreferences;
  readonly appliances: readonly ApplianceFigures[];
}

const format = 'springwright baseline 1';

const kinds = [...(Object.keys(SMALLEST_CHANGE) as (keyof typeof SMALLEST_CHANGE)[]), 'required', 'words'] as const;

const figure = z.strictObject({
  group: z.string(),
  name: z.string(),
  text: z.string(),
  kind: z.enum(kinds),
  value: z.number().optional(),
  outcome: z.enum(['met', 'missed', 'not-evaluable']).optional(),
  stage: z.literal(true).optional(),
});

const schema = z.strictObject({
  format: z.literal(format),
  units: z.enum(['gf', 'N']),
  appliances: z.array(z.strictObject({ name: z.string(), figures: z.array(figure) })),
});

export function baselineText({ units, appliances }: Baseline): string {
  const figures = (all: readonly Figure[]) => all.map((one) => `\n        ${JSON.stringify(written(one))}`).join(',');
  const parts = appliances.map(
    (one) =>
      `\n    {\n      "name": ${JSON.stringify(one.name)},\n      "figures": [${figures(one.figures)}\n      ]\n    }`,
  );
  const list = parts.length === 0 ? '[]' : `[${parts.join(',')}\n  ]`;
  return `{\n  "format": "${format}",\n  "units": "${units.force}",\n  "appliances": ${list}\n}\n`;
}

/** In the same order each time, with no more digits than a report has. */
function written({ group, name, text, kind, value, outcome, stage }: Figure): Figure {
  return {
    group,
    name,
    text,
    kind,
    ...(value !== undefined && { value: rounded(value) }),
    ...(outcome && { outcome }),
    ...(stage && { stage }),
  };
}

/** Undefined where the text is none of a baseline. */
export function readBaseline(text: string): Baseline | undefined {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return undefined;
  }
  const { data } = schema.safeParse(value);
  return data && { units: { force: data.units }, appliances: data.appliances };
}
