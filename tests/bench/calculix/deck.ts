/**
 * Writes a CalculiX input deck for a wire in its attachments, engaged and moved in stages. Attachments clamp the wire up
 * to their slots' edges, so that each free span is a body of its own, from one edge to the next.
 */
import type { ApplianceDesign } from '#core/design';
import type { Matrix, Vector } from '../../oracle/rotation';
import { amplitude, nodeSet, number } from './cards';
import { type FaceHold, holdFace } from './face-hold';
import { isPoint, type Span, spanBetween } from './led-span';
import type { MeshSize } from './swept-mesh';

/** Elastic-plastic behaviour: stress over strain, straight beyond yield. */
export interface Hardening {
  readonly yield: number;
  /** MPa per total strain beyond yield. */
  readonly tangentModulus: number;
  readonly kind: 'isotropic' | 'kinematic';
}

export interface Deck {
  readonly text: string;
  /** Coordinates of node k + 1. */
  readonly nodes: readonly Vector[];
  readonly bricks: number;
  /** Per printed end face, in the order of its tables: the attachment it belongs to. */
  readonly faces: readonly number[];
  /**
   * Per stage and printed face: where its reactions count as moments, in the frame of its span; a node where that is
   * a hook, which presses on the wire's mark wherever it has slid to.
   */
  readonly centres: readonly (readonly (Vector | { readonly node: number })[])[];
}

/**
 * With `slides` the first attachment lets the wire slide through, as on the way to a neutral position.
 * The last end of every span is led into its slot; then one step for each of
 * `motions` (mm of the design's motion).
 *
 * The equations that hold a face (face-hold.ts) are of the slot's axes. While it is led, a face that still stands far across them
 * is kept rigid. That does nothing to the answer of an elastic wire. One that yields beside a rigid face keeps what it has gone
 * through there when the face is let widen, and bears some per cent less ever after: past yield, faces may widen from where they
 * stand nearly square to the slot, all the way where they are not turned at all.
 */
export function writeDeck(
  design: ApplianceDesign,
  motions: readonly number[],
  size: MeshSize,
  { hardening, slides = false }: { readonly hardening?: Hardening; readonly slides?: boolean } = {},
): Deck {
  const spans: HeldSpan[] = [];
  let numbered = 0;
  for (let k = 0; k + 1 < design.attachments.length; k++) {
    const span = spanBetween(design, k, motions, size, numbered);
    numbered += span.nodes.length;
    spans.push(held(span, k === 0 && slides));
  }
  const { modulus, poisson } = design.alloy;
  const bricks = spans.flatMap(({ mesh }) => mesh.bricks);
  const rigidUntil = hardening ? Math.max(...spans.map(nearlySquareFrom)) : 1;
  const lines = [
    '*NODE, NSET=ALL',
    ...spans.flatMap(({ nodes }) => nodes).map((node, k) => `${k + 1},${node.map(number).join(',')}`),
    '*ELEMENT, TYPE=C3D20R, ELSET=WIRE',
    ...bricks.flatMap((brick, k) => [`${k + 1},${brick.slice(0, 10).join(',')},`, brick.slice(10).join(',')]),
    '*MATERIAL, NAME=ALLOY',
    '*ELASTIC',
    `${number(modulus)},${number(poisson)}`,
    ...(hardening ? plasticLines(hardening, modulus) : []),
    '*SOLID SECTION, ELSET=WIRE, MATERIAL=ALLOY',
    ...spans.flatMap(faceLines),
    ...(rigidUntil > 0 ? leadingLines(spans, rigidUntil, true) : []),
    ...(rigidUntil < 1 ? leadingLines(spans, 1 - rigidUntil, false) : []),
    ...motions.flatMap((_, stage) => stageLines(spans, stage)),
  ];
  return {
    text: `${lines.join('\n')}\n`,
    nodes: spans.flatMap((span) => span.nodes),
    bricks: bricks.length,
    faces: spans.flatMap(({ index }) => [index, index + 1]),
    centres: motions.map((_, stage) => spans.flatMap(({ centres }) => centres[stage])),
  };
}

const directions = [0, 1, 2] as const;

interface HeldSpan extends Span {
  readonly slides: boolean;
  readonly holds: Record<'first' | 'last', FaceHold>;
}

function held(span: Span, slides: boolean): HeldSpan {
  const { mesh, firstAxes, last, leaders } = span;
  const hold = (which: 'first' | 'last', axes: Matrix, sliding: boolean) =>
    holdFace(mesh.section, mesh[which].nodes, axes, leaders[which].means, leaders[which].along, sliding);
  return {
    ...span,
    slides,
    holds: { first: hold('first', firstAxes, slides), last: hold('last', last.seatedWire.axes, false) },
  };
}

/** Sets, equations and paths of a span's end faces. */
function faceLines(span: HeldSpan): string[] {
  const { index, mesh, leaders, last, leading, holds } = span;
  const path = (node: number, k: number, value: (step: (typeof leading)[number]) => number) =>
    amplitude(
      `P${node}X${k}`,
      leading.map((step) => [step.time, value(step)]),
    );
  const { means, along } = leaders.last;
  return [
    ...nodeSet(`A${index}`, mesh.first.nodes),
    ...nodeSet(`B${index}`, mesh.last.nodes),
    ...holds.first.lines,
    ...(isPoint(last)
      ? [
          `*RIGID BODY, NSET=B${index}, REF NODE=${means}, ROT NODE=${along[0]}`,
          ...directions.flatMap((k) => path(means, k, ({ middle }) => middle[k])),
        ]
      : [
          ...holds.last.lines,
          ...directions.flatMap((k) => path(means, k, (step) => step.means[k])),
          ...along.flatMap((node, i) => path(node, 0, (step) => step.along[i])),
          ...mesh.last.nodes.flatMap((node, i) =>
            directions.flatMap((k) => (holds.last.follows(i, k) ? [] : path(node, k, ({ face }) => face[i][k]))),
          ),
        ]),
  ];
}

/** Time from which a face that is led stands nearly square to its slot. */
function nearlySquareFrom({ last, leading }: HeldSpan): number {
  // A hook's face is a rigid body throughout.
  if (isPoint(last)) return 0;
  return leading[leading.findLastIndex(({ tilt }) => tilt > NEARLY_SQUARE) + 1].time;
}

/** rad */
const NEARLY_SQUARE = Math.PI / 12;

/** Leads the last ends into their slots for so long. */
function leadingLines(spans: readonly HeldSpan[], time: number, rigid: boolean): string[] {
  return stepLines(`${number(Math.min(0.1, time))},${number(time)},1e-6,0.25`, [
    ...spans.flatMap(firstHeld),
    ...spans.flatMap((span) => lastLed(span, rigid)),
  ]);
}

function stageLines(spans: readonly HeldSpan[], stage: number): string[] {
  return stepLines(
    stage === 0 ? '1.,1.' : '0.5,1.,1e-6,1.',
    [...spans.flatMap(firstHeld), ...spans.flatMap((span) => lastHeld(span, stage))],
    spans.flatMap(({ index }) =>
      ['A', 'B'].flatMap((face) => [`*NODE PRINT, NSET=${face}${index}, GLOBAL=YES, FREQUENCY=100000`, 'U,RF']),
    ),
  );
}

function stepLines(increments: string, boundary: readonly string[], printed: readonly string[] = []): string[] {
  return [
    '*STEP, NLGEOM, INC=1000',
    '*STATIC',
    increments,
    // The default stops at residuals of 0.5 % of the mean force, too early for end moments.
    '*CONTROLS, PARAMETERS=FIELD',
    '1e-5,1e-3',
    '*BOUNDARY, OP=NEW',
    ...boundary,
    ...printed,
    '*END STEP',
  ];
}

function firstHeld({ leaders, slides }: HeldSpan): string[] {
  const { means, along } = leaders.first;
  return [...directions.map((k) => fixed(means, k, 0)), ...(slides ? [] : along.map((node) => fixed(node, 0, 0)))];
}

function lastHeld({ leaders, last, held }: HeldSpan, stage: number): string[] {
  const { means, along } = leaders.last;
  const at = held[stage];
  if (isPoint(last)) return pointDirections(last.tied).map((k) => fixed(means, k, at.middle[k]));
  return [
    ...directions.map((k) => fixed(means, k, at.means[k])),
    ...along.map((node, i) => fixed(node, 0, at.along[i])),
  ];
}

/** A face that is kept rigid on its way is led in every displacement that does not follow. */
function lastLed({ mesh, leaders, last, holds }: HeldSpan, rigid: boolean): string[] {
  const led = (node: number, k: number) => [`*BOUNDARY, AMPLITUDE=P${node}X${k}`, `${node},${k + 1},${k + 1},1.`];
  const { means, along } = leaders.last;
  if (isPoint(last)) return pointDirections(last.tied).flatMap((k) => led(means, k));
  const free = (point: number, k: number) => !rigid || holds.last.follows(point, k);
  return [
    ...directions.flatMap((k) => led(means, k)),
    ...along.flatMap((node) => led(node, 0)),
    ...mesh.last.nodes.flatMap((node, i) => directions.flatMap((k) => (free(i, k) ? [] : led(node, k)))),
  ];
}

/** A hook or eyelet lets the wire slide along its own mesial axis unless tied. */
function pointDirections(tied: boolean): readonly number[] {
  return tied ? directions : directions.slice(1);
}

function fixed(node: number, direction: number, displacement: number): string {
  return `${node},${direction + 1},${direction + 1},${number(displacement)}`;
}

function plasticLines(hardening: Hardening, modulus: number): string[] {
  const slope = (hardening.tangentModulus * modulus) / (modulus - hardening.tangentModulus);
  return [
    `*PLASTIC, HARDENING=${hardening.kind.toUpperCase()}`,
    `${number(hardening.yield)},0.`,
    `${number(hardening.yield + slope * 0.5)},0.5`,
  ];
}
