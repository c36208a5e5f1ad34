import type { Provenance } from '#model/provenance';

/** "From memory: …" */
export function provenanceText({ state, reference }: Provenance): string {
  return reference === undefined ? `${STATES[state]}.` : `${STATES[state]}: ${reference}`;
}

const STATES: Readonly<Record<Provenance['state'], string>> = {
  found: 'Source',
  memory: 'From memory',
  practice: 'Common practice',
  computed: 'Computed',
  unstated: 'No source stated',
};
