/**
 * One free span of a wire in a deck: the passive wire starts in its first slot, and its last end is led into the
 * other one along the path on which all preactivation is scaled from one to zero, so that no full turn is lost.
 */
import type { ApplianceDesign, Attachment } from '#core/design';
import {
  add,
  apply,
  applyTransposed,
  dot,
  type Matrix,
  multiply,
  rotation,
  rotationVector,
  scale,
  subtract,
  transpose,
  type Vector,
} from '../../oracle/rotation';
import type { Place } from '../../oracle/wire-line';
import { sectionMeans } from './section-average';
import { endPlace, type MeshSize, type SweptMesh, sweep } from './swept-mesh';

/** Displacements of the last face from the passive wire, kept rigid. */
interface Displaced {
  /** Of its middle, and of each of its nodes. */
  readonly middle: Vector;
  readonly face: readonly Vector[];
  /** The same as a held face is led (face-hold.ts). */
  readonly means: readonly number[];
  readonly along: readonly number[];
}

export interface Span {
  /** Of its first attachment. */
  readonly index: number;
  readonly last: Attachment;
  readonly firstAxes: Matrix;
  readonly mesh: SweptMesh;
  /** The mesh's nodes, then those that lead the end faces. */
  readonly nodes: readonly Vector[];
  /** Per face: leads a face's means (a rigid face's displacement), and per point its place along the slot. */
  readonly leaders: Record<'first' | 'last', { readonly means: number; readonly along: readonly number[] }>;
  /** On the way into the slot, with the angle at which the face stands to it then, rad; and at each stage. */
  readonly leading: readonly (Displaced & { readonly time: number; readonly tilt: number })[];
  readonly held: readonly Displaced[];
  /** Slot centres at each stage, seen from the first attachment, which stays where it is. */
  readonly centres: readonly (readonly [Vector, Vector | { readonly node: number }])[];
}

export function spanBetween(
  design: ApplianceDesign,
  index: number,
  motions: readonly number[],
  size: MeshSize,
  numberFrom: number,
): Span {
  const [first, last] = [design.attachments[index], design.attachments[index + 1]];
  if (isPoint(first)) throw new Error('a span is written from an attachment that clamps the wire');
  const aligned = last.slotAxes.every((value, k) => Math.abs(value - (k % 4 === 0 ? 1 : 0)) < 1e-9);
  if (isPoint(last) && !last.tied && !aligned) throw new Error('a hook that lets the wire slide stands along the axes');
  const declared = design.activation?.motion;
  if (declared?.kind === 'pull' && motions.some((motion) => motion !== motions[0])) {
    throw new Error('a pull changes the free wire: write one deck per amount');
  }
  const drawn = (k: number) => (declared?.kind === 'pull' && declared.attachment === k ? motions[0] : 0);
  const moved = (k: number, motion: number): Vector =>
    declared?.kind === 'move' && declared.attachment === k ? scale(declared.direction, motion) : [0, 0, 0];
  const shift = (motion: number) => subtract(moved(index + 1, motion), moved(index, motion));

  const start = edge(first, 0.5);
  const end = edge(last, -0.5);
  const from = first.station + heldLength(first) / 2 + drawn(index);
  const to = last.station - heldLength(last) / 2 - drawn(index + 1);
  const mesh = sweep(design, from, to, start, size, numberFrom);
  const passive = mesh.places[mesh.places.length - 1];
  const offsets = mesh.last.nodes.map((node) =>
    applyTransposed(passive.axes, subtract(mesh.nodes[node - 1 - numberFrom], passive.position)),
  );
  const means = sectionMeans(mesh.section);
  const displaced = ({ position, axes }: Place): Displaced => {
    const face = offsets.map((offset) =>
      subtract(add(position, apply(axes, offset)), add(passive.position, apply(passive.axes, offset))),
    );
    const inSlot = face.map((way) => applyTransposed(last.seatedWire.axes, way));
    return {
      middle: subtract(position, passive.position),
      face,
      means: means.map((mean) => mean.reduce((sum, [a, b], i) => sum + a * inSlot[i][1] + b * inSlot[i][2], 0)),
      along: inSlot.map(([along]) => along),
    };
  };
  const atStage = (motion: number): Place => ({ position: add(end.position, shift(motion)), axes: end.axes });

  const rest = endPlace(mesh.pieces, start, 0);
  const turn = rotationVector(multiply(transpose(rest.axes), end.axes));
  const way = subtract(atStage(motions[0]).position, rest.position);
  // A hook's end is free to turn: a straight way will do. A clamped face would shrink by (turn per sample)² / 8 between samples.
  const samples = isPoint(last) ? 1 : 96;
  const leading = Array.from({ length: samples + 1 }, (_, k) => {
    const share = k / samples;
    const scaled = endPlace(mesh.pieces, start, 1 - share);
    const place = {
      position: add(scaled.position, scale(way, share)),
      axes: multiply(scaled.axes, rotation(scale(turn, share))),
    };
    const tangents = [place.axes, end.axes].map((axes) => apply(axes, [1, 0, 0]));
    const tilt = Math.acos(Math.min(1, dot(tangents[0], tangents[1])));
    return { time: share, tilt, ...displaced(place) };
  });
  const perFace = 1 + mesh.section.points.length;
  const nodes = [...mesh.nodes, ...Array.from({ length: 2 * perFace }, () => passive.position)];
  const leadersFrom = (number: number) => ({
    means: number,
    along: mesh.section.points.map((_, i) => number + 1 + i),
  });
  return {
    index,
    last,
    firstAxes: first.seatedWire.axes,
    mesh,
    nodes,
    leaders: {
      first: leadersFrom(numberFrom + mesh.nodes.length + 1),
      last: leadersFrom(numberFrom + mesh.nodes.length + 1 + perFace),
    },
    leading,
    held: motions.map((motion) => displaced(atStage(motion))),
    centres: motions.map((motion) => [
      first.seatedWire.position,
      isPoint(last) ? { node: mesh.last.centre } : add(last.seatedWire.position, shift(motion)),
    ]),
  };
}

export function isPoint(attachment: Attachment): boolean {
  return attachment.fitting === 'hook' || attachment.fitting === 'eyelet';
}

function heldLength(attachment: Attachment): number {
  return isPoint(attachment) ? 0 : attachment.length;
}

/** The wire's place at a slot's edge: forward of its middle by a share of the length it holds. */
function edge(attachment: Attachment, share: number): Place {
  const { position, axes } = attachment.seatedWire;
  return { position: add(position, apply(axes, [share * heldLength(attachment), 0, 0])), axes };
}
