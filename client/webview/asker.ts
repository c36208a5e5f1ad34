/** Asks for the newest wish only: while an answer is awaited, later wishes replace each other. */
export interface Asker<Wish> {
  ask(wish: Wish): void;
  /** An answer has come; the newest wish, if there is one, goes out. */
  answered(): void;
  /** True where no answer is awaited. */
  readonly idle: boolean;
}

export function createAsker<Wish>(send: (wish: Wish) => void): Asker<Wish> {
  let awaited = false;
  let next: { readonly wish: Wish } | undefined;
  return {
    ask(wish) {
      if (awaited) {
        next = { wish };
        return;
      }
      awaited = true;
      send(wish);
    },
    answered() {
      const newest = next;
      next = undefined;
      awaited = newest !== undefined;
      if (newest) send(newest.wish);
    },
    get idle() {
      return !awaited;
    },
  };
}
