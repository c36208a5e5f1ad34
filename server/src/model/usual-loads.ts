/**
 * Upper ends of what is usually put on teeth. A systematic review found no evidence for an optimum (Ren et al., Angle Orthod
 * 2003;73:86-92), so that these say what is usual, not what is right; a file's own requirements stand beside them.
 */
import type { Wrench } from '#core/analysis/analysis';
import { FORCE, MOMENT } from '#core/units/dimension';
import type { Quantity } from '#core/units/quantity';
import { UNITS } from '#core/units/unit';
import type { Provenance } from './provenance';

interface UsualLoad extends Provenance {
  readonly code: 'force' | 'moment';
  readonly movement: string;
  readonly upper: Quantity;
  /** Only where something is moved or pulled: a wire that nothing lets slide is stretched, which has its own finding. */
  readonly activated?: true;
  /** N or N mm of that movement, 0 where the wire does something else. */
  amount(wrench: Wrench): number;
}

const gf = (count: number): Quantity => ({ value: count * (UNITS.get('gf')?.factor ?? 0), dimension: FORCE });

/**
 * Upper ends for each tooth of a group, by how it would begin to move: of two teaching tables the higher figure (handbook 6.3: one
 * from memory, one found on teaching pages that do not name their textbook).
 */
export const USUAL_PER_TOOTH: Readonly<
  Record<'tipping' | 'bodily' | 'root' | 'intrusion' | 'extrusion', Provenance & { readonly upper: Quantity }>
> = {
  tipping: { upper: gf(75), state: 'found', reference: 'teaching pages, 30 to 75 gf a tooth' },
  bodily: { upper: gf(150), state: 'found', reference: 'teaching pages, 100 to 150 gf a tooth' },
  root: { upper: gf(125), state: 'found', reference: 'teaching pages, 75 to 125 gf a tooth' },
  intrusion: { upper: gf(25), state: 'found', reference: 'teaching pages, 15 to 25 gf a tooth' },
  extrusion: { upper: gf(75), state: 'found', reference: 'teaching pages, 50 to 75 gf a tooth' },
};

/** An attachment may stand for one tooth or for a whole segment: these are the figures for the largest groups. */
export const USUAL_LOADS: readonly UsualLoad[] = [
  {
    code: 'force',
    movement: 'intrusion, even of six upper front teeth together',
    upper: gf(200),
    state: 'memory',
    reference: 'Burstone, Am J Orthod 1977;72:1-22; one tooth takes 10 to 25 gf',
    amount: ({ force }) => Math.max(0, force[1]),
  },
  {
    code: 'force',
    movement: 'closing one side of an arch, even with all its front teeth together',
    activated: true,
    upper: gf(350),
    state: 'practice',
    reference: 'one tooth takes 70 to 150 gf bodily and 30 to 75 gf tipping',
    amount: ({ force }) => Math.abs(force[0]),
  },
  {
    code: 'moment',
    movement: 'one tooth',
    upper: { value: 30, dimension: MOMENT },
    state: 'practice',
    reference: 'torque is mostly kept at 5 to 20 N mm',
    amount: ({ moment }) => Math.hypot(...moment),
  },
];
