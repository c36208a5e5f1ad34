/** Brings the solver up to speed before the first design arrives. */
import type { ApplianceDesign, WireElement } from '../design';
import { identityMatrix } from '../math/vector';
import { analyseAppliance } from './analyse';

/** Solves a small appliance in space and one in a plane several times, so that the engine has compiled the kernel. */
export function warmUp(): void {
  for (let k = 0; k < 12; k++) {
    analyseAppliance(practicePiece(0.2));
    analyseAppliance(practicePiece(0));
  }
  for (const sideways of [0.2, 0]) {
    const piece = practicePiece(sideways);
    const law = { kind: 'elastic-plastic', yield: piece.alloy.yield, hardening: 660 } as const;
    analyseAppliance({ ...piece, alloy: { ...piece.alloy, law }, trialActivation: 1 });
  }
}

const straight = (length: number): WireElement => ({ length, shape: [0, 0, 0], preactivation: [0, 0, 0] });
const bend = (angle: number): WireElement => ({
  length: Math.abs(angle),
  shape: [0, 0, angle],
  preactivation: [0, 0, 0],
});

/** A gabled loop, with a bend out of its plane, rad. */
const practicePiece = (sideways: number): ApplianceDesign => ({
  elements: [
    straight(9),
    { length: 0, shape: [0, 0, 0], preactivation: [0, sideways, 0.3] },
    bend(Math.PI / 2),
    straight(5),
    bend(-Math.PI),
    straight(5),
    bend(Math.PI / 2),
    { length: 1, shape: [0, 0, 0], preactivation: [sideways, 0, 0.3] },
    straight(4),
  ],
  section: { kind: 'rectangle', height: 0.4318, width: 0.635, cornerRadius: 0 },
  alloy: { name: 'practice', modulus: 66_000, poisson: 0.33, yield: 900, smallestInnerRadius: 1.5 },
  start: { position: [0, 0, 0], axes: identityMatrix },
  attachments: [
    {
      name: 'first',
      fitting: 'tube',
      station: 5,
      length: 2,
      seatedWire: { position: [5, 0, 0], axes: identityMatrix },
      slotAxes: identityMatrix,
      axes: identityMatrix,
      tied: false,
      lengthwise: 'held',
      play: false,
      friction: 0,
    },
    {
      name: 'second',
      fitting: 'bracket',
      station: 9 + 10 + 2 * Math.PI + 5,
      length: 0,
      seatedWire: { position: [9 + 4 + 5, 0, 0], axes: identityMatrix },
      slotAxes: identityMatrix,
      axes: identityMatrix,
      tied: false,
      lengthwise: 'held',
      play: false,
      friction: 0,
    },
  ],
  activation: { motion: { kind: 'pull', attachment: 0 }, stages: [0, 1, 2] },
  loops: [],
  loads: [],
  groups: [],
});
