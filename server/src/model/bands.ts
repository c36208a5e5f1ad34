/** The bands of an appliance's figures, and which of its sizes make them. */
import type { Figures } from '#core/analysis/figures';
import type { Band, Uncertainty } from '#core/analysis/uncertainty';
import type { Span } from '#grammar/tree';
import type { ScatteredSize } from './scattered-sizes';

export interface Bands extends Uncertainty {
  /** What scatters, in the order of every band's effects. */
  readonly sizes: readonly ScatteredSize[];
}

export interface Contribution {
  readonly size: ScatteredSize;
  /** Half the change of the figure over the size's range, in the figure's unit. */
  readonly change: number;
  /** Part of the band's variance, 0 to 1. */
  readonly share: number;
}

/** What makes most of a band, most first. */
export function leading({ effects }: Band, { sizes }: Bands, most = 3): readonly Contribution[] {
  return effects
    .map(({ change, share }, k) => ({ size: sizes[k], change, share }))
    .filter(({ share }) => share >= WORTH_NAMING)
    .sort((a, b) => b.share - a.share)
    .slice(0, most);
}

/** Share of a band below which a size is not named for it. */
const WORTH_NAMING = 0.05;

/** The band of the opposite sense: of the distal force where that of the mesial is given. */
export function opposite({ low, high, ...band }: Band): Band {
  return { ...band, low: -high, high: -low };
}

export interface Influence {
  /** An item of the appliance's own path. */
  readonly span: Span;
  /** Its part of the variance, the mean over the main figures: the largest force and moment of each attachment. */
  readonly share: number;
  /** Per main figure. */
  readonly parts: readonly {
    readonly attachment: number;
    readonly kind: 'force' | 'moment';
    readonly axis: 0 | 1 | 2;
    readonly share: number;
    readonly change: number;
  }[];
}

/** Where the pliers matter: the items of the path by their part in the main figures' bands, most first. */
export function influences(bands: Bands): readonly Influence[] {
  const main = mainFigures(bands.figures);
  const items = new Map<string, { span: Span; members: number[] }>();
  for (const [k, { pathSpan }] of bands.sizes.entries()) {
    if (!pathSpan) continue;
    const key = `${pathSpan.start}:${pathSpan.end}`;
    const item = items.get(key) ?? { span: pathSpan, members: [] };
    item.members.push(k);
    items.set(key, item);
  }
  return [...items.values()]
    .map(({ span, members }): Influence => {
      const parts = main.map(({ attachment, kind, axis }) => {
        const { effects } = bands.bands.wrenches[attachment][kind][axis];
        const own = members.map((k) => effects[k]);
        return {
          ...{ attachment, kind, axis },
          share: own.reduce((sum, { share }) => sum + share, 0),
          change: Math.sqrt(own.reduce((sum, { change }) => sum + change ** 2, 0)),
        };
      });
      return { span, parts, share: parts.reduce((sum, { share }) => sum + share, 0) / Math.max(parts.length, 1) };
    })
    .sort((a, b) => b.share - a.share);
}

/** The largest force and the largest moment of each attachment, where it has any. */
function mainFigures({ wrenches }: Figures<number>) {
  const axes = [0, 1, 2] as const;
  return wrenches.flatMap((wrench, attachment) =>
    (['force', 'moment'] as const).flatMap((kind) => {
      const size = (axis: 0 | 1 | 2) => Math.abs(wrench[kind][axis]);
      const axis = axes.reduce<0 | 1 | 2>((largest, one) => (size(one) > size(largest) ? one : largest), 0);
      return size(axis) > NOTHING ? [{ attachment, kind, axis }] : [];
    }),
  );
}

/** N and N mm below which there is no force or moment to speak of. */
const NOTHING = 1e-3;
