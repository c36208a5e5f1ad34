/** Writes a CalculiX input deck for one wire between two attachments, engaged and moved in stages. */
import type { ApplianceDesign } from '#core/design';
import {
  add,
  apply,
  multiply,
  rotation,
  rotationVector,
  scale,
  subtract,
  transpose,
  type Vector,
} from '../../oracle/rotation';
import type { Place } from '../../oracle/wire-line';
import { endPlace, type MeshSize, type SweptMesh, sweep } from './swept-mesh';

export interface Deck {
  readonly text: string;
  readonly mesh: SweptMesh;
  /** Slot centres of both attachments at each stage. */
  readonly centres: readonly (readonly [Vector, Vector])[];
}

/**
 * The passive wire starts clamped at the first attachment. The last end, a rigid face, is led into its slot along
 * the path on which all preactivation is scaled from one to zero (so that no full turn is lost), then through
 * `motions` (mm of the design's `move`), one step each. `hardening` adds elastic-plastic behaviour.
 */
export function writeDeck(
  design: ApplianceDesign,
  motions: readonly number[],
  size: MeshSize,
  hardening?: { readonly yield: number; readonly tangentModulus: number },
): Deck {
  const [first, last] = design.attachments;
  const declared = design.activation?.motion;
  if (declared?.kind === 'pull' && motions.some((motion) => motion !== motions[0])) {
    throw new Error('a pull changes the free wire: write one deck per amount');
  }
  const pull = declared?.kind === 'pull' ? motions[0] : 0;
  const from = first.station + first.length / 2 + (declared?.attachment === 0 ? pull : 0);
  const to = last.station - last.length / 2 - (declared?.attachment === 1 ? pull : 0);
  const moved = (index: number, motion: number): Vector =>
    declared?.kind === 'move' && declared.attachment === index ? scale(declared.direction, motion) : [0, 0, 0];
  const edge = (index: 0 | 1, motion: number): Place => {
    const attachment = design.attachments[index];
    const inward = (index === 0 ? 0.5 : -0.5) * attachment.length;
    const { position, axes } = attachment.seatedWire;
    return { position: add(add(position, moved(index, motion)), apply(axes, [inward, 0, 0])), axes };
  };
  const start = edge(0, 0);
  const mesh = sweep(design, from, to, start, size);
  const passiveEnd = mesh.places[mesh.places.length - 1];

  // Path of the last end, relative to the first attachment, which stays where it is.
  const rest = endPlace(mesh.pieces, start, 0);
  const target = (motion: number): Place => {
    const end = edge(1, motion);
    return { position: subtract(end.position, moved(0, motion)), axes: end.axes };
  };
  const nominalToTarget = rotationVector(multiply(transpose(rest.axes), target(motions[0]).axes));
  const samples = 24;
  const table: { time: number; displacement: Vector; turn: Vector }[] = [];
  let turn: Vector = [0, 0, 0];
  for (let k = 0; k <= samples; k++) {
    const s = k / samples;
    const scaled = endPlace(mesh.pieces, start, 1 - s);
    const gap = subtract(target(motions[0]).position, rest.position);
    const axes = multiply(scaled.axes, rotation(scale(nominalToTarget, s)));
    turn = nearest(rotationVector(multiply(axes, transpose(passiveEnd.axes))), turn);
    table.push({
      time: s,
      displacement: subtract(add(scaled.position, scale(gap, s)), passiveEnd.position),
      turn,
    });
  }
  motions.slice(1).forEach((motion, k) => {
    table.push({ time: k + 2, displacement: subtract(target(motion).position, passiveEnd.position), turn });
  });

  const reference = mesh.nodes.length + 1;
  const { modulus, poisson } = design.alloy;
  const lines = [
    '*NODE, NSET=ALL',
    ...mesh.nodes.map((node, k) => `${k + 1},${node.map(number).join(',')}`),
    `${reference},${passiveEnd.position.map(number).join(',')}`,
    `${reference + 1},${passiveEnd.position.map(number).join(',')}`,
    '*ELEMENT, TYPE=C3D20R, ELSET=WIRE',
    ...mesh.bricks.flatMap((brick, k) => [`${k + 1},${brick.slice(0, 10).join(',')},`, brick.slice(10).join(',')]),
    ...nodeSet('FIRST', mesh.firstFace),
    ...nodeSet('LAST', mesh.lastFace),
    '*MATERIAL, NAME=ALLOY',
    '*ELASTIC',
    `${number(modulus)},${number(poisson)}`,
    ...(hardening ? plasticLines(hardening, modulus) : []),
    '*SOLID SECTION, ELSET=WIRE, MATERIAL=ALLOY',
    `*RIGID BODY, NSET=LAST, REF NODE=${reference}, ROT NODE=${reference + 1}`,
    '*BOUNDARY',
    'FIRST,1,3,0.',
    ...[0, 1, 2].flatMap((k) =>
      amplitude(
        `D${k + 1}`,
        table.map((row) => [row.time, row.displacement[k]]),
      ),
    ),
    ...[0, 1, 2].flatMap((k) =>
      amplitude(
        `T${k + 1}`,
        table.map((row) => [row.time, row.turn[k]]),
      ),
    ),
    ...motions.flatMap((_, step) => [
      '*STEP, NLGEOM, INC=1000',
      '*STATIC',
      step === 0 ? '0.1,1.,1e-6,0.25' : '0.5,1.,1e-6,1.',
      // The default stops at residuals of 0.5 % of the mean force, too early for end moments.
      '*CONTROLS, PARAMETERS=FIELD',
      '1e-5,1e-3',
      ...[1, 2, 3].flatMap((k) => [
        `*BOUNDARY, AMPLITUDE=D${k}`,
        `${reference},${k},${k},1.`,
        `*BOUNDARY, AMPLITUDE=T${k}`,
        `${reference + 1},${k},${k},1.`,
      ]),
      '*NODE PRINT, NSET=FIRST, FREQUENCY=100000',
      'U,RF',
      '*NODE PRINT, NSET=LAST, FREQUENCY=100000',
      'U,RF',
      '*END STEP',
    ]),
  ];
  const centres = motions.map((motion): [Vector, Vector] => [
    first.seatedWire.position,
    subtract(add(last.seatedWire.position, moved(1, motion)), moved(0, motion)),
  ]);
  return { text: `${lines.join('\n')}\n`, mesh, centres };
}

/** The same rotation as `vector`, as the rotation vector closest to `previous`. */
function nearest(vector: Vector, previous: Vector): Vector {
  const angle = Math.hypot(...vector);
  if (angle < 1e-12) return vector;
  const candidates = [0, 1, -1].map((turns) => scale(vector, (angle + 2 * Math.PI * turns) / angle));
  const distance = (candidate: Vector) => Math.hypot(...subtract(candidate, previous));
  return candidates.reduce((best, candidate) => (distance(candidate) < distance(best) ? candidate : best));
}

function nodeSet(name: string, nodes: readonly number[]): string[] {
  const lines = [`*NSET, NSET=${name}`];
  for (let k = 0; k < nodes.length; k += 8) lines.push(`${nodes.slice(k, k + 8).join(',')},`);
  return lines;
}

function amplitude(name: string, rows: readonly (readonly [number, number])[]): string[] {
  const lines = [`*AMPLITUDE, NAME=${name}, TIME=TOTAL TIME`];
  for (let k = 0; k < rows.length; k += 4) {
    lines.push(
      `${rows
        .slice(k, k + 4)
        .flat()
        .map(number)
        .join(',')},`,
    );
  }
  return lines;
}

function plasticLines(hardening: { yield: number; tangentModulus: number }, modulus: number): string[] {
  const slope = (hardening.tangentModulus * modulus) / (modulus - hardening.tangentModulus);
  return ['*PLASTIC', `${number(hardening.yield)},0.`, `${number(hardening.yield + slope * 0.5)},0.5`];
}

function number(value: number): string {
  return value.toExponential(12);
}
