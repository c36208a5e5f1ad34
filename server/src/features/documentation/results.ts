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
  moved: 'How far the centre of resistance has moved over the visits, by direction.',
  crown_moved: 'How far the first attachment of the group has moved over the visits, by direction.',
  tip: 'How far the group has tipped over the visits, by the way of its crown.',
  rotation: 'How far the group has turned about its long axis over the visits.',
  torque: 'How far the group has turned across the arch over the visits, by the way of its crown.',
  moment: 'Moment of the wire on the tooth at the middle of the slot, by what it does.',
};
