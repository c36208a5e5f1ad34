import type { Wrench } from '#core/analysis/analysis';

/** One signed component of a wrench as the trade reads it: what the wire does to the tooth. */
export interface Effect {
  readonly kind: 'force' | 'moment';
  /** Index of the axis: 0 mesial, 1 gingival, 2 buccal. */
  readonly axis: 0 | 1 | 2;
  /** The result's name in the language, e.g. `gingival`, `crown_distal`. */
  readonly name: string;
  /** N or N mm, never negative: the name carries the sense. */
  readonly amount: number;
  /** e.g. "intrudes". */
  readonly words: string;
}

/**
 * The six components of a wrench (N, N mm; axes mesial, gingival, buccal), each named by the way it acts. Signs as the
 * mechanics note defines them: positive moments are crown-lingual, mesial-in and crown-mesial about x, y and z.
 */
export function effects(wrench: Wrench): readonly Effect[] {
  return [
    ...axes.map((axis) => effect('force', axis, wrench.force[axis])),
    ...axes.map((axis) => effect('moment', axis, wrench.moment[axis])),
  ];
}

/** Names of the positive and the negative sense per axis, as the language spells them. */
export const senses = {
  force: [
    ['mesial', 'distal'],
    ['gingival', 'occlusal'],
    ['buccal', 'lingual'],
  ],
  moment: [
    ['crown_lingual', 'crown_buccal'],
    ['mesial_in', 'mesial_out'],
    ['crown_mesial', 'crown_distal'],
  ],
} as const;

const axes = [0, 1, 2] as const;

const words: Record<string, string> = {
  mesial: 'pulls mesially',
  distal: 'pulls distally',
  gingival: 'intrudes',
  occlusal: 'extrudes',
  buccal: 'moves buccally',
  lingual: 'moves lingually',
  crown_mesial: 'tips the crown mesially',
  crown_distal: 'tips the crown distally',
  mesial_in: 'turns the mesial side in',
  mesial_out: 'turns the mesial side out',
  crown_buccal: 'torques the crown buccally',
  crown_lingual: 'torques the crown lingually',
};

function effect(kind: 'force' | 'moment', axis: 0 | 1 | 2, value: number): Effect {
  const name = senses[kind][axis][value < 0 ? 1 : 0];
  return { kind, axis, name, amount: Math.abs(value), words: words[name] };
}
