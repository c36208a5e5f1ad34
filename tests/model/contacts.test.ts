import { describe, expect, it } from 'vitest';
import type { EngagedState, SeatedWithPlay } from '#core/analysis/analysis';
import { frictionBand, loadName, loadSense, slidThrough, touchPhrase, turnsInSlot } from '#model/contacts';
import { attachment, engaged } from '../drawing/synthetic';
import { resolveAppliance } from './resolve-text';

const wrench = { force: [0, 0, 0], moment: [0, 0, 0] } as const;

function state(about: Partial<EngagedState>): EngagedState {
  return { ...engaged(0, [wrench, wrench], [[0, 0, 0]]), ...about };
}

describe('how a wire lies in an attachment', () => {
  const design = {
    attachments: [
      attachment('molar', 'tube', [0, 0, 0], 4),
      { ...attachment('canine', 'bracket', [20, 0, 0], 3), lengthwise: 'sliding' as const },
    ],
  } as unknown as Parameters<typeof slidThrough>[1];

  it('tells wire that slid by itself, not what a pull has drawn or what nobody sees', () => {
    const slid = state({ slid: [1.5, -0.2] });
    expect(slidThrough(slid, design, 0)).toBeUndefined();
    expect(slidThrough(slid, design, 1)).toBe(-0.2);
    expect(slidThrough(state({ slid: [0, 1e-9] }), design, 1)).toBeUndefined();
  });

  it.each([
    [{ height: 2, depth: 0, torque: false }, 'its height on both sides'],
    [{ height: 1, depth: 2, torque: false }, 'its height on one side, its depth on both sides'],
    [{ height: 0, depth: 0, torque: true }, 'both walls in torque'],
    [{ height: 0, depth: 0, torque: false }, 'nothing'],
  ])('tells what it touches: %o', (touching, words) => {
    expect(touchPhrase({ turn: [0, 0, 0], touching })).toBe(words);
  });

  it('names the turns in the slot by their order', () => {
    const seated: SeatedWithPlay = { turn: [0.1, 0.2, 0.3], touching: { height: 2, depth: 0, torque: false } };
    expect(turnsInSlot(seated)).toEqual([
      { name: 'tip', order: 'second order', angle: 0.3 },
      { name: 'rotation', order: 'first order', angle: 0.2 },
      { name: 'torque', order: 'third order', angle: 0.1 },
    ]);
  });

  it('turns the band of friction into the sense in which a component acts', () => {
    const bounds = [
      { least: { force: [-1.2, 0, 0], moment: [0, 0, 2] }, most: { force: [-0.8, 0, 0], moment: [0, 0, 5] } },
    ] as const;
    expect(frictionBand(bounds, 0, { kind: 'force', axis: 0, name: 'distal' })).toEqual({ low: 0.8, high: 1.2 });
    expect(frictionBand(bounds, 0, { kind: 'force', axis: 0, name: 'mesial' })).toEqual({ low: -1.2, high: -0.8 });
    expect(frictionBand(bounds, 0, { kind: 'moment', axis: 2, name: 'crown_mesial' })).toEqual({ low: 2, high: 5 });
    expect(frictionBand(bounds, 0, { kind: 'force', axis: 1, name: 'gingival' })).toBeUndefined();
    expect(frictionBand(undefined, 0, { kind: 'force', axis: 0, name: 'mesial' })).toBeUndefined();
  });
});

describe('loads', () => {
  it('go by their name, or by what they are and between which places', () => {
    const appliance = resolveAppliance(`use "alloys"
appliance test {
  wire round 0.016 in of steel
  path running mesial {
    straight 5 mm
    seat molar
    straight 8 mm
    mark middle
    straight 8 mm
    seat canine
    straight 5 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  elastic closing from canine to molar force 150 gf
  coil from middle to molar rate 0.4 N/mm rest 8 mm
}`);
    const { design } = appliance;
    expect(design?.loads.map((load) => loadName(load, design, appliance))).toEqual(['closing', 'coil middle to molar']);
  });

  it.each([
    [0.5, 'pulls'],
    [-0.5, 'pushes'],
    [0, 'slack'],
  ])('%f N %s', (force, sense) => {
    expect(
      loadSense({
        force,
        places: [
          [0, 0, 0],
          [1, 0, 0],
        ],
      }),
    ).toBe(sense);
  });
});
