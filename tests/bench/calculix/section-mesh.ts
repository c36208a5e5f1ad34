/** Eight-node quadrilaterals over a wire's cross-section: what the swept bricks are made of. */
import type { Section } from '#core/design';

export interface SectionMesh {
  /** Points (up, side), mm. */
  readonly points: readonly (readonly [number, number])[];
  /** True where a point is a corner of a quadrilateral: there is a node half way along a brick, too. */
  readonly corners: readonly boolean[];
  /** Four corners in order from up towards side, then the middles of the edges that start at them. */
  readonly quads: readonly (readonly number[])[];
}

/** `high` quadrilaterals across the height and `wide` across the width; both even, so that there is a point in the middle. */
export function sectionMesh(section: Section, high: number, wide: number): SectionMesh {
  if (high % 2 !== 0 || high < 2) throw new Error('an even number of bricks across the height is needed');
  if (section.kind === 'round') return discMesh(section.diameter / 2, high / 2);
  if (section.cornerRadius > 0) throw new Error('the swept mesh is written for sharp-cornered rectangular wire');
  const collector = new Collector();
  for (let i = 0; i < high; i++) {
    for (let j = 0; j < wide; j++) {
      const at = (u: number, v: number): [number, number] => [
        ((i + u) / high - 0.5) * section.height,
        ((j + v) / wide - 0.5) * section.width,
      ];
      collector.quad(at);
    }
  }
  return collector.mesh();
}

/** A square core with bulging sides and a ring of four sectors round it; `layers` quadrilaterals in core half and ring each. */
function discMesh(radius: number, layers: number): SectionMesh {
  const collector = new Collector();
  const core = 0.55 * radius;
  const inCore = (a: number, b: number): [number, number] => {
    // From the square to the disc (elliptical map), half way: sides that bulge keep all angles well below 180°.
    const disc: [number, number] = [a * Math.sqrt(1 - (b * b) / 2), b * Math.sqrt(1 - (a * a) / 2)];
    return [(core * (a + disc[0] * Math.SQRT2 ** 0.5)) / 2, (core * (b + disc[1] * Math.SQRT2 ** 0.5)) / 2];
  };
  const count = 2 * layers;
  const spot = (k: number) => (2 * k) / count - 1;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) collector.quad((u, v) => inCore(spot(i + u), spot(j + v)));
  }
  for (let sector = 0; sector < 4; sector++) {
    const turn = ([a, b]: [number, number]): [number, number] =>
      sector === 0 ? [a, b] : sector === 1 ? [-b, a] : sector === 2 ? [-a, -b] : [b, -a];
    for (let j = 0; j < count; j++) {
      for (let layer = 0; layer < layers; layer++) {
        collector.quad((u, v) => {
          const b = spot(j + v);
          const inner = inCore(1, b);
          const angle = (b * Math.PI) / 4;
          const share = (layer + u) / layers;
          const outer = [radius * Math.cos(angle), radius * Math.sin(angle)];
          return turn([inner[0] + share * (outer[0] - inner[0]), inner[1] + share * (outer[1] - inner[1])]);
        });
      }
    }
  }
  return collector.mesh();
}

/** Collects quadrilaterals and gives points that coincide one number. */
class Collector {
  private readonly points: [number, number][] = [];
  private readonly corners: boolean[] = [];
  private readonly quads: number[][] = [];
  private readonly numbers = new Map<string, number>();

  quad(at: (u: number, v: number) => [number, number]): void {
    this.quads.push(parameters.map(([u, v], k) => this.number(at(u, v), k < 4)));
  }

  mesh(): SectionMesh {
    return { points: this.points, corners: this.corners, quads: this.quads };
  }

  private number([up, side]: [number, number], corner: boolean): number {
    const key = `${Math.round(up * 1e7)},${Math.round(side * 1e7)}`;
    let found = this.numbers.get(key);
    if (found === undefined) {
      found = this.points.length;
      this.numbers.set(key, found);
      this.points.push([up, side]);
      this.corners.push(corner);
    } else if (corner) this.corners[found] = true;
    return found;
  }
}

const parameters = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
  [0.5, 0],
  [1, 0.5],
  [0.5, 1],
  [0, 0.5],
] as const;
