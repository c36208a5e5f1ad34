import { describe, expect, it } from 'vitest';
import type { Pose } from '#core/design';
import { developedLength } from '#core/geometry/developed-length';
import { advance } from '#core/geometry/pose';
import { addScaled, scale } from '#core/math/vector';
import type { ResolvedAppliance } from '#model/resolved';
import { thicknessAlong } from '#model/wire';
import { applyFix, checkProblems } from './fixture';
import { resolveAppliance } from './resolve-text';

const DEGREE = Math.PI / 180;

function appliance(
  path: string,
  { running = 'mesial', before = '', wire = 'round 0.4064 mm' } = {},
): ResolvedAppliance {
  return resolveAppliance(`use "alloys"
use "loops"
${before}
appliance test {
  wire ${wire} of steel
  path running ${running} {
${path}
  }
}
`);
}

/** Poses at the start, in the middle and at the end of each element, with the share of preactivation. */
function poses({ design }: ResolvedAppliance, preactivation: 0 | 1): Pose[] {
  if (!design) throw new Error('no design');
  const all = [design.start];
  for (const element of design.elements) {
    const half = scale(addScaled(element.shape, element.preactivation, preactivation), 0.5);
    for (let part = 0; part < 2; part++) all.push(advance(all[all.length - 1], half, element.length / 2));
  }
  return all;
}

function end(resolved: ResolvedAppliance, preactivation: 0 | 1 = 0): Pose {
  return poses(resolved, preactivation).at(-1) as Pose;
}

function expectVector(actual: readonly number[], expected: readonly number[], digits = 9): void {
  for (const [index, value] of expected.entries()) expect(actual[index]).toBeCloseTo(value, digits);
}

describe('geometry of a path', () => {
  it('C55: a bend of 90° with inner radius 0.5 mm in 0.4064 mm wire (handbook 3.6)', () => {
    const resolved = appliance(
      '    straight 5 mm\n    bend 90 deg toward gingival radius 0.5 mm + wire.height / 2\n    straight 5 mm',
    );
    const [, bend] = resolved.steps;
    expect(bend.to - bend.from).toBeCloseTo(1.1046, 4);
    const corner = 0.5 + 0.2032;
    expect(2 * corner - (bend.to - bend.from)).toBeCloseTo(0.3018, 4);
    expectVector(end(resolved).position, [5 + corner, 5 + corner, 0]);
  });

  it('takes the usual radius from the alloy and the thickness in the plane of the bend (handbook 8)', () => {
    const resolved = appliance(
      '    straight 5 mm\n    bend 90 deg toward gingival\n    straight 3 mm\n    bend 90 deg toward lingual\n    straight 3 mm',
      {
        wire: '0.4 mm x 0.6 mm',
      },
    );
    // Steel: inner radius 1 thickness, so 1.5 thicknesses to the centre line.
    expect(resolved.steps[1].radius).toBeCloseTo(1.5 * 0.4, 12);
    expect(resolved.steps[3].radius).toBeCloseTo(1.5 * 0.6, 12);
  });

  it('bends toward anatomical directions of the nominal shape', () => {
    // Up the gingival leg, then lingual: a right-angled stair in space with sharp corners.
    const resolved = appliance(
      '    straight 1 mm\n    bend 90 deg toward gingival radius 0 mm\n    straight 2 mm\n    bend 90 deg toward lingual radius 0 mm\n    straight 3 mm\n    bend 90 deg toward distal radius 0 mm\n    straight 4 mm',
    );
    expectVector(end(resolved).position, [1 - 4, 2, -3]);
    expectVector(
      [0, 3, 6].map((row) => end(resolved).axes[row]),
      [-1, 0, 0],
    );
  });

  it('runs distally with gingival up', () => {
    const resolved = appliance('    straight 4 mm\n    bend 90 deg toward gingival radius 0 mm\n    straight 3 mm', {
      running: 'distal',
    });
    expectVector(end(resolved).position, [-4, 3, 0]);
  });

  it('keeps preactivation out of the nominal shape and carries its axis with the wire', () => {
    const resolved = appliance(
      '    straight 10 mm\n    preactivate 90 deg toward gingival radius 0 mm\n    preactivate 90 deg toward lingual radius 0 mm\n    straight 10 mm',
    );
    expectVector(end(resolved).position, [20, 0, 0]);
    // First up about buccal; the second axis, gingival in the nominal frame, has then become -mesial.
    // (e_x × -e_z = e_y, turned by 90° about e_z, is -e_x; the tangent e_y turned about -e_x by 90° is -e_z.)
    expectVector(end(resolved, 1).position, [10, 0, -10]);
  });

  it('adds preactivation up past 180° without losing its sense', () => {
    const third = '    preactivate 80 deg toward gingival radius 0 mm\n    straight 5 mm\n';
    const resolved = appliance(`    straight 5 mm\n${third}${third}${third}`);
    // Three legs of 5 mm at 80°, 160° and 240°.
    const x = [0, 80, 160, 240].reduce((sum, angle) => sum + 5 * Math.cos(angle * DEGREE), 0);
    const y = [0, 80, 160, 240].reduce((sum, angle) => sum + 5 * Math.sin(angle * DEGREE), 0);
    expectVector(end(resolved, 1).position, [x, y, 0]);
    expectVector(end(resolved).position, [20, 0, 0]);
  });

  it('twists about the wire as preactivation', () => {
    const resolved = appliance('    straight 5 mm\n    twist 30 deg over 3 mm\n    straight 5 mm');
    const { axes } = end(resolved, 1);
    expectVector([axes[1], axes[4], axes[7]], [0, Math.cos(30 * DEGREE), Math.sin(30 * DEGREE)]);
    expect(end(resolved).position[0]).toBeCloseTo(13, 12);
  });

  it('winds helices and stacks them by the wire’s own size, mirrored to the other side', () => {
    const before = 'part coil() { helix 2 turns diameter 3 mm toward gingival }';
    const beside = (call: string) => end(appliance(`    straight 5 mm\n    ${call}`, { before })).position[2];
    const slope = (width: number) => Math.cos(Math.atan(width / (3 * Math.PI)));
    const resolved = appliance('    straight 5 mm\n    helix 2 turns diameter 3 mm toward gingival\n    straight 5 mm');
    const width = thicknessAlong(resolved.design!.section, 0, 1);
    expect(end(resolved).position[2]).toBeCloseTo(2 * width * slope(width), 9);
    expect(resolved.steps.find(({ kind }) => kind === 'helix')).toMatchObject({
      angle: 4 * Math.PI,
      radius: 1.5,
      pitch: width,
      direction: 'gingival',
    });
    expect(beside('coil()')).toBeCloseTo(2 * width * slope(width), 9);
    expect(beside('mirror coil()')).toBeCloseTo(-2 * width * slope(width), 9);
    expect(beside('flip coil()')).toBeCloseTo(-2 * width * slope(width), 9);
    expect(beside('helix 2 turns diameter 3 mm toward occlusal')).toBeCloseTo(-2 * width * slope(width), 9);
    expect(beside('helix 2 turns diameter 3 mm toward gingival pitch -1 mm')).toBeCloseTo(-2 * slope(1), 9);
  });

  it('lays parts out in the frame of their entry, flipped and mirrored', () => {
    const before = `part hook_up() {
  bend 90 deg toward gingival radius 0 mm
  straight 2 mm
  bend 90 deg toward buccal radius 0 mm
  straight 1 mm
}`;
    const along = (call: string) => end(appliance(`    straight 5 mm\n    ${call}`, { before })).position;
    expectVector(along('hook_up()'), [5, 2, 1]);
    expectVector(along('flip hook_up()'), [5, -2, -1]);
    expectVector(along('mirror hook_up()'), [5, 2, -1]);
    expectVector(along('flip mirror hook_up()'), [5, -2, 1]);
    // Entered going lingual: the part's mesial is lingual, its buccal (tangent × up) is mesial.
    const turned = end(
      appliance('    straight 5 mm\n    bend 90 deg toward lingual radius 0 mm\n    hook_up()', { before }),
    );
    expectVector(turned.position, [6, 2, 0]);
  });

  it('turns parts of a flipped or mirrored part with it', () => {
    const before = `part tip() { bend 90 deg toward buccal radius 0 mm straight 1 mm }
part whole() { bend 90 deg toward gingival radius 0 mm straight 2 mm tip() }`;
    const along = (call: string) => end(appliance(`    straight 5 mm\n    ${call}`, { before })).position;
    expectVector(along('whole()'), [5, 2, 1]);
    expectVector(along('mirror whole()'), [5, 2, -1]);
    expectVector(along('flip whole()'), [5, -2, -1]);
  });

  it('repeats, and numbers loops that have no label of their own', () => {
    const resolved = appliance(
      '    repeat 2 {\n      straight 3 mm\n      open_loop(height = 7 mm)\n    }\n    straight 3 mm\n    open_loop(height = 6 mm) as front',
    );
    expect(resolved.loops.map(({ name }) => name)).toEqual(['open_loop', 'open_loop_2', 'front']);
    expect(resolved.design?.loops).toHaveLength(3);
  });

  it('traces each step with its stations and where it is written', () => {
    const resolved = appliance(
      '    straight 3 mm\n    open_loop(height = 7 mm, width = 2 mm, base_radius = 0 mm) as loop',
    );
    const [first, ...inLoop] = resolved.steps;
    expect([first.from, first.to]).toEqual([0, 3]);
    expect(inLoop.every(({ uri }) => uri === 'springwright-library:/loops.spring')).toBe(true);
    expect(new Set(inLoop.map(({ pathSpan }) => pathSpan.start)).size).toBe(1);
    expect(inLoop.at(-1)?.to).toBeCloseTo(3 + 12 + Math.PI, 9);
  });
});

describe('the bundled loops', () => {
  const loop = (call: string, wire = '0.017 in x 0.025 in') =>
    appliance(`    straight 10 mm\n    ${call} as loop\n    straight 10 mm`, { wire });
  const feet = (resolved: ResolvedAppliance) => {
    const { design } = resolved;
    const [{ feet: stations }] = design?.loops ?? [];
    const at = (station: number) => {
      let reached = 0;
      const index = (design?.elements ?? []).findIndex((element) => (reached += element.length) > station - 1e-9);
      return poses(resolved, 0)[2 * (index + 1)].position;
    };
    return stations.map(at);
  };

  it('open: height, width and gap to the centre line (handbook 5.1)', () => {
    const resolved = loop('open_loop(height = 8 mm, width = 2 mm, base_radius = 0 mm)');
    // S = L - 2r + 2(h - r) + πr with L = 22 for arms of 10 mm beside legs 2 mm apart.
    expect(developedLength(resolved.design?.elements ?? [])).toBeCloseTo(20 + 2 * 7 + Math.PI, 9);
    const points = poses(resolved, 0).map(({ position }) => position);
    expect(Math.max(...points.map(([, y]) => y))).toBeCloseTo(8, 9);
    expectVector(end(resolved).position, [22, 0, 0]);
    const [first, second] = feet(resolved);
    expect(second[0] - first[0]).toBeCloseTo(2, 9);
  });

  it('closed: legs cross by the width, side by side, back in line and plane', () => {
    const resolved = loop('closed_loop(height = 9 mm, width = 3 mm)');
    const [first, second] = feet(resolved);
    expect(second[0] - first[0]).toBeCloseTo(-3, 9);
    const last = end(resolved);
    expect(last.position[1]).toBeCloseTo(0, 9);
    expect(last.position[2]).toBeCloseTo(0, 9);
    expectVector([last.axes[0], last.axes[3], last.axes[6], last.axes[4]], [1, 0, 0, 1]);
    const points = poses(resolved, 0).map(({ position }) => position);
    expect(Math.max(...points.map(([, y]) => y))).toBeCloseTo(9, 9);
    expect(Math.max(...points.map(([, , z]) => z))).toBeCloseTo(0.635, 9);
    const mirrored = poses(loop('mirror closed_loop(height = 9 mm, width = 3 mm)'), 0);
    expect(Math.min(...mirrored.map(({ position }) => position[2]))).toBeCloseTo(-0.635, 9);
  });

  it('closed, in one plane: the same developed length as an open one of its size', () => {
    const closed = loop('closed_loop(height = 8 mm, width = 2 mm, base_radius = 0 mm, beside = 0 mm)');
    expect(developedLength(closed.design?.elements ?? [])).toBeCloseTo(20 + 2 * 7 + Math.PI, 9);
    expectVector(end(closed).position, [18, 0, 0]);
  });

  it('T: developed length of the handbook’s 7 × 10 loop, span 23 (5.3, S = 53.2832)', () => {
    const resolved = appliance(
      '    straight 11 mm\n    t_loop(height = 7 mm, width = 10 mm, end_radius = 1 mm, gap = 1 mm, leg_radius = 0 mm, base_radius = 0 mm) as loop\n    straight 11 mm',
    );
    expect(developedLength(resolved.design?.elements ?? [])).toBeCloseTo(53.2832, 4);
    expectVector(end(resolved).position, [23, 0, 0]);
    const points = poses(resolved, 0).map(({ position }) => position);
    expect(Math.max(...points.map(([, y]) => y))).toBeCloseTo(7, 9);
    // The end bends reach half the width to each side of the middle.
    const bar = points.filter(([, y]) => y > 7 - 1e-9).map(([x]) => x);
    expect(Math.max(...bar) - Math.min(...bar)).toBeCloseTo(10 - 2 * 1, 9);
  });
});

describe('problems of a path', () => {
  it('finds bends along the wire, in the nominal shape', () => {
    checkProblems(`use "alloys"
appliance arch {
  wire round 0.016 in of steel
  path running mesial {
    straight 5 mm
    bend 90 deg toward mesial
    //                 ^^^^^^ error bend-along-wire: The wire runs mesial here
    bend 90 deg toward gingival
    straight 5 mm
  }
}
appliance other {
  wire round 0.016 in of steel
  path running mesial {
    straight 5 mm
    bend 90 deg toward gingival
    straight 5 mm
    bend 90 deg toward occlusal
    //                 ^^^^^^^^ error bend-along-wire: The wire runs against occlusal here
    preactivate 20 deg toward upward
    //                        ^^^^^^ error unknown-direction
    straight -1 mm
    //       ^^^^^ error length-not-positive: is -1 mm; it cannot be negative
    twist 10 deg over 0 mm
    //                ^^^^ error length-not-positive: must be more than 0
  }
}
`);
  });

  it('finds helices that cannot be wound', () => {
    checkProblems(`use "alloys"
appliance arch {
  wire round 0.4 mm of steel
  path running mesial {
    straight 5 mm
    helix 0 turns diameter 3 mm toward gingival
    //    ^ error helix-size: winds more than 0 turns, not 0
    helix 31 turns diameter 3 mm toward gingival
    //    ^^ error limit-exceeded: Turns of a helix: 31 are asked for, at most 30 are possible.
    helix 2 turns diameter 3 mm toward gingival pitch 4 mm
    //                                                ^^^^ error helix-size: is at most its diameter, 3 mm, either way; it is 4 mm
    helix 2 turns diameter 3 mm toward gingival pitch -0.3 mm
    //                                                ^^^^^^^ error helix-size: The coils cut into each other: the pitch is -0.3 mm, the wire takes 0.4 mm beside itself.
    helix 2 turns diameter 3 toward gingival
    //                     ^ error unit-missing
    helix 2 mm turns diameter 3 mm toward gingival
    //    ^^^^ error unit-mismatch
  }
}
appliance tight {
  wire round 0.4 mm of steel
  path running mesial {
    helix 2 turns diameter 0.5 mm toward gingival
    //                     ^^^^^^ warning bend-radius-too-small: Bend radius 0.25 mm
    helix 2 turns diameter 3 mm toward mesial
    //                                 ^^^^^^ error bend-along-wire
  }
}
`);
  });

  it('warns of bends tighter than the alloy stands', () => {
    checkProblems(`use "alloys"
appliance arch {
  wire 0.4 mm x 0.6 mm of beta_titanium
  path running mesial {
    straight 5 mm
    bend 30 deg toward gingival radius 0.3 mm
    //                                 ^^^^^^ warning bend-radius-too-small: Bend radius 0.3 mm is below 0.8 mm, the usual minimum for this wire (2 x thickness to the centre line).
    bend 30 deg toward occlusal radius 0.8 mm
    bend 30 deg toward lingual radius 0 mm
    straight 5 mm
  }
}
`);
  });

  it('limits the length, where most of it is written', () => {
    checkProblems(`use "alloys"
appliance metres {
  wire round 0.016 in of steel
  path running mesial {
    straight 5 mm
    straight 8 m
//  ^^^^^^^^^^^^ error wire-too-long: 8005 mm long; up to 500 mm
  }
}`);
  });

  it('limits repetition, pieces and steps', () => {
    checkProblems(`use "alloys"
appliance many {
  wire round 0.016 in of steel
  path running mesial {
    repeat 1e6 { straight 1 mm }
    //     ^^^ error limit-exceeded: Repetitions
    repeat 2.5 { straight 1 mm }
    //     ^^^ error repeat-count: not 2.5
  }
}
appliance deep {
  wire round 0.016 in of steel
  path running mesial {
    straight 5 mm
    repeat 500 { repeat 500 { repeat 500 { mark here } } }
    //                                     ^^^^^^^^^ error limit-exceeded: Steps of the path
  }
}
appliance long {
  wire round 0.016 in of steel
  path running mesial {
    repeat 500 { repeat 500 { straight 1 mm } }
    //                        ^^^^^^^^^^^^^ error limit-exceeded: Pieces of wire
  }
}
`);
  });

  it('says when nothing is there', () => {
    checkProblems(`use "alloys"
appliance bare {
//        ^^^^ error missing-wire
//        ^^^^ error missing-path
}
appliance short {
  wire round 0.016 in of steel
  wire round 0.018 in of steel
//^^^^ error duplicate-member: second wire
  path running mesial { }
//^^^^ error empty-wire
}
appliance crooked {
  wire round 0.016 in of steel
  path running gingival { straight 5 mm }
  //           ^^^^^^^^ error unknown-direction
}
`);
  });

  it('offers to turn the bend that takes a seat out of line into preactivation', () => {
    const text = `use "alloys"
appliance uprighting {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 5 mm
    bend 20 deg toward gingival
    straight 10 mm
    seat canine
    //   ^^^^^^ warning seat-out-of-line: points 20 deg away from the seat of molar
    straight 4 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
}
`;
    checkProblems(text);
    const mended = applyFix(text, 'Make it a preactivation bend');
    expect(mended).toContain('    preactivate 20 deg toward gingival\n');
  });
});
