/** Random numbers that are the same at every run. */

/** Uniform from 0 (inclusive) to 1 (exclusive): mulberry32, a small generator in the public domain. */
export function uniformNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Normally distributed with mean 0 and standard deviation 1 (Box and Muller, Ann Math Stat 1958;29:610-611). */
export function normalNumbers(seed: number): () => number {
  const uniform = uniformNumbers(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
