/**
 * What a section gives way by. In a bend the fibres of the inside are shorter than those of the outside, so that a moment also
 * stretches the middle line and a pull also turns the sections (Winkler's theory of curved beams; Timoshenko, Strength of
 * Materials II, strain energy of a curved bar); across the bend a torque shears it and a shear twists it. The fibres of
 * a bend also press on each other along its radius, which stretches the middle line by ν more of the same: balance along the
 * radius makes the mean of that stress over any section -κ·m/A, whatever its course. In Golovin's solution the whole is
 * exactly (1 + ν) κ·m/EA, at any h/R (`tests/core/curved-bars.test.ts`). With the curvature κ of the unstressed bend (κ = κup d2 + κside d3, d1 the tangent),
 * moment m and force n the strains are
 *
 *   ω = C m + couple κ (d1·n) - shear d1 (κ·n)
 *   r' - d1 = shear n + (stretch - shear) d1 (d1·n) + couple d1 (κ·m) - shear κ (d1·m)
 *
 * with C diagonal in the section's own frame and couple = (1 + ν) stretch. These are all terms of first order in the thickness over the radius, h/R. Of second
 * order, a pull's own share is exact and torsion takes `shear` κ² on top, so that all but 3/16 (d/2R)² of it is in (Göhner's
 * solution for close-coiled springs of round wire; Wahl, Mechanical Springs, from memory). Bending itself stays as in straight
 * wire: plane sections would make it stiffer by (h/R)²/15 (Winkler), the exact solution of a bend that goes on makes it softer by
 * (h/R)²/30 (Golovin; Timoshenko and Goodier, Theory of Elasticity), and short bends between straight wire, solved in finite
 * elements, lie between.
 */
import type { Alloy, Section, Stock } from '../design';
import { stiffness } from '../material/section';
import type { Piece } from './pieces';

export interface Compliance {
  /** C: turn per length by moment, 1 / (N mm²); 1 / GJ, 1 / EI about up and about side in straight wire. */
  readonly twist: number;
  readonly up: number;
  readonly side: number;
  /** 1 / EA and 1 / GA, 1 / N. */
  readonly stretch: number;
  readonly shear: number;
  /** What a pull turns a bend's sections by and a moment stretches it by, over its curvature: (1 + ν) / EA, 1 / N. */
  readonly couple: number;
  /** κ, 1 / mm. */
  readonly curvatureUp: number;
  readonly curvatureSide: number;
}

export type ComplianceKind = 'full' | 'bending-only';

/** Of the pieces of a design's wire; `straight` is that of its own stock where it is straight. */
export interface WireCompliance {
  readonly straight: Compliance;
  readonly ofPiece: (piece: Piece) => Compliance;
}

export function wireCompliance(section: Section, alloy: Alloy, kind: ComplianceKind): WireCompliance {
  const own: Stock = { section, alloy, count: 1 };
  const straight = straightCompliance(own, kind);
  return {
    straight,
    ofPiece: ({ stock, shape, preactivation, length }) => {
      const of = stock ? straightCompliance(stock, kind) : straight;
      const up = shape[1] + preactivation[1];
      const side = shape[2] + preactivation[2];
      if (kind !== 'full' || !(length > 0) || (up === 0 && side === 0)) return of;
      return bentCompliance(of, (stock ?? own).section, up / length, side / length);
    },
  };
}

/**
 * Of wires side by side, which share what one would bear. `bending-only` leaves a thousandth of stretch and shear: without any,
 * the tension of a straight wire held at both ends has no value. Where they matter most they are 1 % of a force; this leaves
 * 1e-5 of it.
 */
function straightCompliance({ section, alloy, count }: Stock, kind: ComplianceKind): Compliance {
  const { GJ, EIup, EIside, EA, GA } = stiffness(section, alloy);
  const share = kind === 'bending-only' ? 1e-3 : 1;
  return {
    twist: 1 / (count * GJ),
    up: 1 / (count * EIup),
    side: 1 / (count * EIside),
    stretch: share / (count * EA),
    shear: share / (count * GA),
    couple: (share * (1 + alloy.poisson)) / (count * EA),
    curvatureUp: 0,
    curvatureSide: 0,
  };
}

/** Of the same wire where it is straight. */
export function asStraight(compliance: Compliance): Compliance {
  const { twist, shear, curvatureUp, curvatureSide } = compliance;
  const ofBend = shear * (curvatureUp ** 2 + curvatureSide ** 2);
  return { ...compliance, twist: twist - ofBend, curvatureUp: 0, curvatureSide: 0 };
}

function bentCompliance(straight: Compliance, section: Section, up: number, side: number): Compliance {
  const [height, width] =
    section.kind === 'round' ? [section.diameter, section.diameter] : [section.height, section.width];
  const curvatureUp = withinReach(up, width);
  const curvatureSide = withinReach(side, height);
  return {
    ...straight,
    twist: straight.twist + straight.shear * (curvatureUp ** 2 + curvatureSide ** 2),
    curvatureUp,
    curvatureSide,
  };
}

/**
 * What is bent about less than its own size has no sections in this sense, and a sharp corner none at all: beyond a radius of
 * the section's size in the plane of the bend the curvature acts as at it.
 */
function withinReach(curvature: number, size: number): number {
  return Math.max(-1 / size, Math.min(1 / size, curvature));
}
