/** Figures of teeth by their names in the bundled tooth data; a file's own values of the same names come first. */
import type { Vec3 } from '#core/math/vector';
import { AREA, LENGTH, sameDimension } from '#core/units/dimension';
import type { Dimension } from '#core/units/quantity';
import { knownQuantity } from './expression/value';
import { find, type Scope } from './names/scope';
import { neighbour, type Tooth, toothName } from './teeth';

/** mm; undefined where the file does not use the tooth data. */
function crownWidth(tooth: Tooth, scope: Scope): number | undefined {
  return figure(`${toothName(tooth)}_width`, LENGTH, scope);
}

/** mm */
export function rootLength(tooth: Tooth, scope: Scope): number | undefined {
  return figure(`${toothName(tooth)}_root`, LENGTH, scope);
}

/** mm² */
export function rootSurface(tooth: Tooth, scope: Scope): number | undefined {
  return figure(`${toothName(tooth)}_root_surface`, AREA, scope);
}

/** Of a tooth's centre of resistance from its attachment along its mesial, gingival and buccal, mm. */
export function resistanceOffset(tooth: Tooth, scope: Scope): Vec3 | undefined {
  const kind = tooth.position <= 3 ? 'front_tooth' : tooth.position <= 5 ? 'premolar' : 'molar';
  const own = `${toothName(tooth)}_resistance`;
  const gingival = figure(`${own}_gingival`, LENGTH, scope) ?? figure(`${kind}_resistance_depth`, LENGTH, scope);
  const lingual = figure(`${own}_lingual`, LENGTH, scope) ?? figure(`${kind}_resistance_lingual`, LENGTH, scope);
  const distal = figure(`${own}_distal`, LENGTH, scope) ?? 0;
  return gingival === undefined || lingual === undefined ? undefined : [-distal, gingival, -lingual];
}

/** From the middle of one tooth to that of another of the same side, toward mesial, mm: crowns in contact, without spaces. */
export function towardMesial(from: Tooth, to: Tooth, scope: Scope): number | undefined {
  if (from.arch !== to.arch || from.side !== to.side) return undefined;
  const [front, back] = [Math.min(from.position, to.position), Math.max(from.position, to.position)];
  let distance = 0;
  for (let position = front; position <= back; position++) {
    const width = crownWidth(neighbour(from, position), scope);
    if (width === undefined) return undefined;
    distance += position === front || position === back ? width / 2 : width;
  }
  return front === back ? 0 : Math.sign(from.position - to.position) * distance;
}

/** Names of the figures of a tooth that an estimate of its response rests on. */
export function responseFigures(tooth: Tooth): {
  readonly surface: string;
  readonly root: string;
  readonly depth: string[];
} {
  const kind = tooth.position <= 3 ? 'front_tooth' : tooth.position <= 5 ? 'premolar' : 'molar';
  const name = toothName(tooth);
  return {
    surface: `${name}_root_surface`,
    root: `${name}_root`,
    depth: [`${name}_resistance_gingival`, `${kind}_resistance_depth`],
  };
}

function figure(name: string, dimension: Dimension, scope: Scope): number | undefined {
  const quantity = knownQuantity(find(scope, name, ['let', 'parameter'])?.value());
  return quantity && sameDimension(quantity.dimension, dimension) ? quantity.value : undefined;
}
