/** Small fixed-size linear algebra on plain records, for geometry and results. The solver has its own flat arrays. */

/** Three components in one right-handed frame. */
export type Vec3 = readonly [number, number, number];

/** Row-major 3 × 3 matrix; for a rotation, column k is the k-th axis expressed in the outer frame. */
export type Mat3 = readonly [number, number, number, number, number, number, number, number, number];
