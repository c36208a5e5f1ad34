/** The known name closest to a misspelt one, or none where nothing is close enough to be meant. */
export function nearest(name: string, known: Iterable<string>): string | undefined {
  // A third of the letters may be wrong, and at least one; longer detours are another word.
  const furthest = Math.max(1, Math.floor(name.length / 3));
  let best: string | undefined;
  let least = furthest + 1;
  let considered = 0;
  for (const candidate of known) {
    if (candidate === name || Math.abs(candidate.length - name.length) > furthest) continue;
    considered += 1;
    if (considered > MOST_CANDIDATES) break;
    const distance = editDistance(name.toLowerCase(), candidate.toLowerCase());
    if (distance < least) {
      best = candidate;
      least = distance;
    }
  }
  return best;
}

/** Names that are compared letter by letter; no design has so many of like length. */
const MOST_CANDIDATES = 500;

/** Number of letters to insert, leave out, replace or swap with their neighbour (optimal string alignment). */
function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let distance = Math.min(last[column] + 1, current[column - 1] + 1, last[column - 1] + (same ? 0 : 1));
      if (row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1]) {
        distance = Math.min(distance, beforeLast[column - 2] + 1);
      }
      current.push(distance);
    }
    beforeLast = last;
    last = current;
  }
  return last[b.length];
}
