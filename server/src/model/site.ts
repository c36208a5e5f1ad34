/** Where an appliance sits: on one quadrant, computed in the frame of an upper right one, or over a whole arch. */
import type { Tooth } from './teeth';

export interface Site {
  readonly kind: 'quadrant' | 'arch';
  readonly arch: 'upper' | 'lower';
  /** Of the patient; of a quadrant. */
  readonly side: 'right' | 'left' | undefined;
}

/** What is meant where nothing is said. */
export const USUAL_SITE: Site = { kind: 'quadrant', arch: 'upper', side: 'right' };

/** As in the language: "on upper left", "in upper arch". */
export function sitePhrase({ kind, arch, side }: Site): string {
  return kind === 'arch' ? `in ${arch} arch` : `on ${arch} ${side}`;
}

/** Whether a tooth stands where the appliance sits. */
export function standsAt(tooth: Tooth, site: Site): boolean {
  return tooth.arch === site.arch && (site.kind === 'arch' || tooth.side === site.side);
}
