/**
 * A span whose sections may yield. Beside the node poses and end forces of any span, the curvatures at two Gauss
 * points of every step are unknowns, and each of these sections has a history.
 *
 * Nodes are places of the wire itself: wire drawn through an attachment takes steps out of the span one after the
 * other (their length becomes 0) and the slot's edge cuts the one it stands in. A cut step keeps its sections, which
 * lets their history err by less than a step's length along a straight arm.
 */
import type { Stock } from '../../design';
import {
  bend,
  bendElastically,
  type FibreSection,
  type SectionAnswer,
  staysElastic,
} from '../../material/fibre-section';
import { formSection } from '../../material/formed-section';
import type { WireFibres } from '../../material/wire-fibres';
import { scale } from '../../math/vector';
import { asStraight } from '../compliance';
import { activationDrive, type Drive, type HeldSpan } from '../held-span';
import { createMesh, type Mesh, type MeshRule, shapeMesh } from '../mesh';
import { type Piece, straightPiece } from '../pieces';
import { createSpan, type Span } from '../span';

/** Held like any span (held-span.ts), which the read-outs of states take as it is. */
export interface InelasticSpan {
  readonly held: HeldSpan;
  readonly span: Span;
  /** Of each step. */
  readonly sections: readonly FibreSection[];
  /** GJ of each step, N mm²: torsion stays elastic. */
  readonly torsion: Float64Array;
  /** Length of each step with no wire drawn, reserve included, mm. */
  readonly lengths: Float64Array;
  /** Steps of the reserve and the arm at the drawn end, counted from that end. */
  readonly armSteps: number;
  /** Wire in reserve behind the drawn end's slot edge, mm. */
  readonly reserve: number;
  /** Curvature (twist, up, side) at each Gauss point, 6 numbers per step, rad/mm. */
  readonly curvature: Float64Array;
  /** Of the wire as bent, and of the nominal wire, 3 numbers per step. */
  readonly bent: Float64Array;
  readonly nominal: Float64Array;
  /** Curvature at each Gauss point with no moment, as of the last release, 6 per step. */
  readonly free: Float64Array;
  /** Curvature from which each fibre's strain is counted at the present share of engagement, 6 per step. */
  readonly reference: Float64Array;
  /** Fibres' history, where that of each Gauss point begins, and whether it holds anything but noughts. */
  readonly history: Float64Array;
  readonly historyAt: Int32Array;
  readonly touched: Uint8Array;
  /** By u, at fixed u, and by the motion: per node 8 × (rotation, displacement), per step 8 × its curvatures. */
  readonly columns: Float64Array;
  readonly curvatureColumns: Float64Array;
  /** Largest moment, N mm, by which a section misses equilibrium in the last sweep. */
  unbalanced: number;
  share: number;
  motion: number;
}

/** Numbers per node in `columns` and per step in `curvatureColumns`. */
export const WIDTH = 48;

/** Gauss points of a step, and the integrals of their Lagrange polynomials from its start to them, over its length. */
const ROOT = Math.sqrt(3) / 6;
export const A11 = 0.25;
export const A12 = 0.25 - ROOT;
export const A21 = 0.25 + ROOT;
export const A22 = 0.25;
export const GAUSS = [0.5 - ROOT, 0.5 + ROOT] as const;

/** The wire of a held span once more, on a mesh of its own; `reserve`: wire that the motion may pay in, mm. */
export function createInelasticSpan(
  held: HeldSpan,
  fibres: WireFibres,
  rule: MeshRule,
  reserve: number,
): InelasticSpan {
  const { compliance, compliances, planar, mesh: elastic } = held.span;
  const drive = activationDrive(held)?.kind;
  const kept = elastic.pieces.filter(({ length, corners }) => length > 0 || corners.length > 0);
  const spare = (stock: Stock | undefined): Piece => ({ ...straightPiece, length: reserve, ...(stock && { stock }) });
  const pieces = [
    ...(drive === 'draw-start' ? [spare(kept[0]?.stock)] : []),
    ...kept,
    ...(drive === 'draw-end' ? [spare(kept.at(-1)?.stock)] : []),
  ];
  const mesh = createMesh(pieces, rule, { start: false, end: false });
  const ofStock = new Map(
    elastic.pieces.map(({ stock }, k) => [stock, asStraight(compliances[elastic.firstStep[k]])] as const),
  );
  const span = createSpan(mesh, compliance, planar, undefined, false, ({ stock }) => ofStock.get(stock)!);
  const steps = mesh.steps;
  const sections = mesh.pieces.flatMap(({ stock }, k) =>
    Array.from({ length: mesh.firstStep[k + 1] - mesh.firstStep[k] }, () => fibres(stock)),
  );
  const historyAt = new Int32Array(2 * steps + 1);
  for (let point = 0; point < 2 * steps; point++) {
    historyAt[point + 1] = historyAt[point] + sections[point >> 1].count;
  }
  const bent = new Float64Array(3 * steps);
  const nominal = new Float64Array(3 * steps);
  for (let k = 0; k < mesh.pieces.length; k++) {
    const { length, shape, preactivation } = mesh.pieces[k];
    if (!(length > 0)) continue;
    const shaped = scale(shape, 1 / length);
    const extra = scale(preactivation, 1 / length);
    for (let i = mesh.firstStep[k]; i < mesh.firstStep[k + 1]; i++) {
      for (let c = 0; c < 3; c++) {
        nominal[3 * i + c] = shaped[c];
        bent[3 * i + c] = shaped[c] + extra[c];
      }
    }
  }
  shapeMesh(mesh, 0);
  const made: InelasticSpan = {
    held: { ...held, span, change: new Float64Array(6) },
    span,
    sections,
    torsion: Float64Array.from(span.compliances, ({ twist }) => 1 / twist),
    lengths: mesh.h.slice(),
    armSteps: armSteps(mesh, drive),
    reserve,
    curvature: new Float64Array(6 * steps),
    bent,
    nominal,
    free: new Float64Array(6 * steps),
    reference: new Float64Array(6 * steps),
    history: new Float64Array(historyAt[2 * steps]),
    historyAt,
    touched: new Uint8Array(2 * steps),
    columns: new Float64Array(WIDTH * (steps + 1)),
    curvatureColumns: new Float64Array(WIDTH * steps),
    unbalanced: 0,
    share: Number.NaN,
    motion: Number.NaN,
  };
  for (let i = 0; i < steps; i++) {
    for (let c = 0; c < 6; c++) made.free[6 * i + c] = bent[3 * i + (c % 3)];
  }
  formBends(made);
  return made;
}

/** Sections of bends begin with what bending them has left in them. */
function formBends({ span: { mesh }, sections, bent, history, historyAt, touched }: InelasticSpan): void {
  for (let k = 0; k < mesh.pieces.length; k++) {
    const { forming } = mesh.pieces[k];
    const first = mesh.firstStep[k];
    const section = sections[first];
    if (!forming || first === mesh.firstStep[k + 1] || !hasYield(section)) continue;
    // A piece has one curvature throughout.
    const at = historyAt[2 * first];
    formSection(section, bent[3 * first + 1], bent[3 * first + 2], forming.furthest, history, at);
    for (let point = 2 * first; point < 2 * mesh.firstStep[k + 1]; point++) {
      history.copyWithin(historyAt[point], at, at + section.count);
      touched[point] = 1;
    }
  }
}

/** Of an alloy with a yield strength, as opposed to a superelastic one and to one of which nothing is known beyond its elastic range. */
function hasYield({ law }: FibreSection): boolean {
  return law.kind === 'elastic-plastic' && Number.isFinite(law.limit);
}

/** Sets how far the wire is bent from the nominal shape to its free one, and the motion. */
export function setInelasticControls(of: InelasticSpan, share: number, motion: number): void {
  const { span, held, bent, nominal, free, reference } = of;
  if (share !== of.share) {
    shapeMesh(span.mesh, share);
    for (let i = 0; i < span.mesh.steps; i++) {
      for (let c = 0; c < 6; c++) {
        const wire = 3 * i + (c % 3);
        const now = bent[wire] - (1 - share) * (free[6 * i + c] - nominal[wire]);
        // Sections keep their strain, so that Newton starts from their present stiffness.
        of.curvature[6 * i + c] += now - reference[6 * i + c];
        reference[6 * i + c] = now;
      }
    }
  } else if (motion === of.motion) {
    return;
  }
  of.share = share;
  of.motion = motion;
  held.share = share;
  held.placeEnd(share, held.end);
  const drive = activationDrive(held);
  if (drive) drive.amount = motion;
  if (drive?.kind === 'move-end') for (let k = 0; k < 3; k++) held.end.position[k] += motion * held.end.rate[k];
  cutSteps(of, motion);
}

/** Puts every node where the wire with its present curvatures has it, without end forces. */
export function layFree(of: InelasticSpan): void {
  of.span.u.fill(0);
  for (let i = 0; i < of.span.mesh.steps; i++) {
    for (let c = 0; c < 6; c++) of.curvature[6 * i + c] = of.nominal[3 * i + (c % 3)];
  }
}

/** The step that the slot's edge cuts, -1 where the motion draws no wire: its length falls as the motion grows. */
export function cutStep({ held, span, lengths, armSteps, reserve, motion }: InelasticSpan): number {
  const drive = activationDrive(held)?.kind;
  if (drive !== 'draw-start' && drive !== 'draw-end') return -1;
  let gone = reserve + motion;
  for (let k = 0; k < armSteps; k++) {
    const i = drive === 'draw-start' ? k : span.mesh.steps - 1 - k;
    gone -= lengths[i];
    if (gone < 0) return i;
  }
  return drive === 'draw-start' ? armSteps - 1 : span.mesh.steps - armSteps;
}

/** Moments and stiffness of a Gauss point's section at its present curvature. */
export function sectionAt(of: InelasticSpan, point: number, into: SectionAnswer): void {
  const up = of.curvature[3 * point + 1] - of.reference[3 * point + 1];
  const side = of.curvature[3 * point + 2] - of.reference[3 * point + 2];
  const section = of.sections[point >> 1];
  if (of.touched[point] === 0 && staysElastic(section, up, side)) bendElastically(section, up, side, into);
  else bend(section, of.history, of.historyAt[point], up, side, into);
}

function cutSteps(of: InelasticSpan, motion: number): void {
  const { held, span, lengths, armSteps, reserve } = of;
  const drive = activationDrive(held)?.kind;
  if (drive !== 'draw-start' && drive !== 'draw-end') return;
  let gone = reserve + motion;
  for (let k = 0; k < armSteps; k++) {
    const i = drive === 'draw-start' ? k : span.mesh.steps - 1 - k;
    // Wire beyond the reserve lengthens its first step.
    const cut = k === 0 && gone < 0 ? gone : Math.max(0, Math.min(gone, lengths[i]));
    span.mesh.h[i] = lengths[i] - cut;
    gone -= lengths[i];
  }
}

function armSteps(mesh: Mesh, drive: Drive['kind'] | undefined): number {
  const { pieces, firstStep } = mesh;
  const straight = ({ shape, preactivation, corners }: Piece) =>
    [...shape, ...preactivation].every((x) => x === 0) && corners.length === 0;
  if (drive === 'draw-start') {
    let k = 0;
    while (k < pieces.length && straight(pieces[k])) k++;
    return firstStep[k];
  }
  if (drive === 'draw-end') {
    // Corners stand at a piece's start: the last arm may begin with one.
    let k = pieces.length - 1;
    while (k > 0 && straight(pieces[k])) k--;
    const bare = { ...pieces[k], corners: [] };
    return mesh.steps - (straight(bare) ? firstStep[k] : firstStep[k + 1]);
  }
  return 0;
}
