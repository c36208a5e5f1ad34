/** What a missed requirement and a missed preference have in common. */
export interface Miss {
  /** The condition as written. */
  readonly text: string;
  /** The side that was computed, as written, with its value and what it should be; absent for joined conditions. */
  readonly what: string | undefined;
  readonly actual: string | undefined;
  readonly expected: string | undefined;
  /** " at 1.5 mm", " at neutral" or nothing. */
  readonly where: string;
  readonly because: string | undefined;
}

export function missMessage(kind: string, { text, what, actual, expected, where, because }: Miss) {
  const finding =
    what && actual && expected ? `${what} is ${actual}${where}, not ${expected}` : `"${text}" does not hold${where}`;
  return { message: `${kind} missed: ${finding}.`, hint: because };
}
