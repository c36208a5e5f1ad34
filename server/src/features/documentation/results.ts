/** Names of results in requirement expressions, and what they stand for. */
import { type NamedResult, RESULTS, type ResultOwner } from '#model/results';

export interface ResultName {
  readonly name: string;
  readonly meaning: string;
}

/** What may follow the dot after an owner's name, or after an owner's name and the words in `path`. */
export function resultsAfter(owner: ResultOwner, path: readonly string[] = []): ResultName[] {
  const before = path.map((word) => `${word}.`).join('');
  const names = new Map<string, string>();
  for (const [name, { documentation }] of RESULTS[owner]) {
    if (!name.startsWith(before)) continue;
    const [next, ...more] = name.slice(before.length).split('.');
    if (!names.has(next)) names.set(next, more.length === 0 ? documentation : groups[next]);
  }
  return [...names].map(([name, meaning]) => ({ name, meaning }));
}

export function resultNamed(owner: ResultOwner, path: readonly string[]): NamedResult | undefined {
  return RESULTS[owner].get(path.join('.'));
}

/** Words that stand between an owner and its components. */
export const groups: Readonly<Record<string, string>> = {
  force: 'Force of the wire on the tooth, by direction.',
  play: 'How the wire stands turned in a slot that it has play in, by order.',
  moment: 'Moment of the wire on the tooth at the middle of the slot, by what it does.',
};
