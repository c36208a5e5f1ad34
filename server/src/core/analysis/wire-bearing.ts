/** How hard the forces in a section try the wire there: largest stress, and how much of the elastic range that uses. */
import type { ApplianceDesign, Section, Stock } from '../design';
import { layeredSection } from '../material/fibre-section';
import { type FibreStress, fibreStress } from '../material/fibre-stress';
import { yieldLeft } from '../material/formed-section';
import { sectionProperties } from '../material/section';
import { fibreLaw } from '../material/uniaxial-law';
import type { Piece } from '../mechanics/pieces';

export interface Bearing {
  /** MPa, under the forces and moments that act on the piece (N, N mm). */
  readonly stress: FibreStress;
  /** Yield strength, MPa. */
  readonly strength: number;
  /** Share of the elastic range that is used, from that stress and the moments about up and side, N mm; beyond 1 it yields. */
  readonly use: (stress: number, momentUp: number, momentSide: number) => number;
}

export type WireBearing = (piece: Piece) => Bearing;

export function wireBearing({ section, alloy }: ApplianceDesign): WireBearing {
  const own: Stock = { section, alloy, count: 1 };
  const stresses = new Map<Stock, FibreStress>();
  const known = new Map<Piece, Bearing>();
  return (piece) => {
    const stock = piece.stock ?? own;
    let bearing = known.get(piece);
    if (!bearing) {
      let stress = stresses.get(stock);
      if (!stress) stresses.set(stock, (stress = stressOf(stock)));
      bearing = { stress, strength: stock.alloy.yield, use: useOf(piece, stock) };
      known.set(piece, bearing);
    }
    return bearing;
  };
}

/** Wires side by side share the forces. */
function stressOf({ section, count }: Stock): FibreStress {
  const one = fibreStress(section);
  if (count === 1) return one;
  return (axial, torque, up, side) => one(axial / count, torque / count, up / count, side / count);
}

/**
 * Stress over the yield strength; where a bend is loaded against its last sense, stress against it over what forming has
 * left of the yield strength if that is more. A bend about neither axis of its section is taken as about the nearer one.
 */
function useOf({ forming, shape, preactivation, length }: Piece, { section, alloy, count }: Stock): Bearing['use'] {
  const { law, yield: strength, modulus } = alloy;
  const plain: Bearing['use'] = (stress) => stress / strength;
  if (!forming || law?.kind !== 'elastic-plastic' || !(length > 0)) return plain;
  const [up, side] = [(shape[1] + preactivation[1]) / length, (shape[2] + preactivation[2]) / length];
  const aboutSide = Math.abs(side) >= Math.abs(up);
  const free = aboutSide ? side : up;
  const { modulusSide, modulusUp } = sectionProperties(section);
  const [along, across] = aboutSide ? [modulusSide, modulusUp] : [modulusUp, modulusSide];
  const layers = layeredSection(aboutSide ? section : turned(section), fibreLaw(law, modulus), LAYERS);
  const left = strength * yieldLeft(layers, strength * along, free, forming.furthest);
  // The sense of the last bend.
  const sense = Math.sign(free) * (forming.furthest > 1 ? -1 : 1);
  return (stress, momentUp, momentSide) => {
    const [on, beside] = aboutSide ? [momentSide, momentUp] : [momentUp, momentSide];
    const against = (Math.abs(beside) / across - (sense * on) / along) / count;
    return Math.max(stress / strength, against / left);
  };
}

/** Enough for the moment to 1 %. */
const LAYERS = 8;

/** The section with the axis to bend about as its side axis. */
function turned(section: Section): Section {
  return section.kind === 'round' ? section : { ...section, height: section.width, width: section.height };
}
