import { SEVERITIES, type Severities, type SeveritySetting } from '#model/severities';

/** The settings under `springwright` that a feature may depend on, as package.json declares them. */
export interface Settings {
  readonly units: { readonly force: 'gf' | 'N' };
  /** Kinds of inlay hints, each on or off. */
  readonly hints: {
    readonly lengths: boolean;
    readonly angles: boolean;
    readonly stiffness: boolean;
    readonly neutral: boolean;
    readonly forces: boolean;
    readonly moments: boolean;
    readonly requirements: boolean;
    readonly radii: boolean;
    readonly bands: boolean;
    readonly groups: boolean;
  };
  /** How many items stand at the end of one line; the rest is in its tooltip. */
  readonly hintsPerLine: number;
  /** How gravely findings are taken, by their ids. */
  readonly severity: Severities;
}

export const defaultSettings: Settings = {
  units: { force: 'gf' },
  hints: {
    lengths: true,
    angles: true,
    stiffness: true,
    neutral: true,
    forces: true,
    moments: true,
    requirements: true,
    radii: true,
    bands: false,
    groups: true,
  },
  hintsPerLine: 2,
  severity: {},
};

/** Settings from what the editor sent; whatever is absent or of another type keeps its default. */
export function settingsFrom(received: unknown): Settings {
  const { units, hints, severity } = record(received);
  const chosen = record(hints);
  const kinds = Object.keys(defaultSettings.hints) as (keyof Settings['hints'])[];
  return {
    units: { force: record(units).force === 'N' ? 'N' : defaultSettings.units.force },
    hints: Object.fromEntries(
      kinds.map((kind) => {
        const on = chosen[kind];
        return [kind, typeof on === 'boolean' ? on : defaultSettings.hints[kind]];
      }),
    ) as unknown as Settings['hints'],
    hintsPerLine: typeof chosen.perLine === 'number' ? Math.max(1, chosen.perLine) : defaultSettings.hintsPerLine,
    severity: Object.fromEntries(
      Object.entries(record(severity)).filter((entry): entry is [string, SeveritySetting] =>
        (SEVERITIES as readonly unknown[]).includes(entry[1]),
      ),
    ),
  };
}

function record(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}
