/** Pieces in front of other pieces against the definition, point by point with all others. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { overpasses } from '#drawing/overpasses';

const [reach, apart, behind] = [9, 1.5, 0.2];

it('lie over exactly the points that the definition says', () => {
  const wires = fc.array(fc.tuple(fc.double({ min: -1, max: 1 }), fc.double({ min: -1, max: 1 })), {
    minLength: 2,
    maxLength: 120,
  });
  fc.assert(
    fc.property(wires, (turns) => {
      const { points, stations } = walk(turns.map(([turn, rise]) => [turn || 0, rise || 0]));
      const over = new Set(
        overpasses(points, stations, reach, apart, behind).flatMap(({ from, to }) =>
          Array.from({ length: to - from + 1 }, (_, k) => from + k),
        ),
      );
      const wanted = points.map((here, k) =>
        points.some(
          (there, other) =>
            here.nearness - there.nearness > behind &&
            Math.hypot(there.x - here.x, there.y - here.y) < reach &&
            Math.abs(stations[k] - stations[other]) > apart,
        ),
      );
      // A single point is no piece.
      const pieces = wanted.map((is, k) => is && (wanted[k - 1] || wanted[k + 1] || false));
      expect(points.map((_, k) => over.has(k))).toEqual(pieces);
    }),
    { seed: 5, numRuns: 200 },
  );
});

it('come from the farther to the nearer', () => {
  const { points, stations } = walk(Array.from({ length: 100 }, () => [0.6, 0.02]));
  const nearness = overpasses(points, stations, reach, apart, behind).map((one) => one.nearness);
  expect(nearness.length).toBeGreaterThan(0);
  expect(nearness).toEqual([...nearness].sort((a, b) => a - b));
});

/** A wire of steps of 2.5 on the canvas that turns and rises from step to step. */
function walk(turns: readonly (readonly [number, number])[]) {
  let [x, y, nearness, heading] = [0, 0, 0, 0];
  const points = turns.map(([turn, rise]) => {
    heading += turn;
    x += 2.5 * Math.cos(heading);
    y += 2.5 * Math.sin(heading);
    nearness += 0.2 * rise;
    return { x, y, nearness };
  });
  return { points, stations: points.map((_, k) => 0.125 * k) };
}
