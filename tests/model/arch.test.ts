/** Quadrants, teeth and whole arches: what is on which side, and that mirror images give the same figures. */
import { describe, expect, it } from 'vitest';
import { analyseAppliance } from '#core/analysis/analyse';
import { ARCH_TOLERANCE } from '#core/geometry/arch-arcs';
import { betaArch } from '#core/geometry/arch-form';
import { handedness } from '#core/math/rotation';
import { apply, type Mat3, subtract, type Vec3 } from '#core/math/vector';
import { checkProblems } from './fixture';
import { resolveAppliance } from './resolve-text';

const steel = 'alloy steel { modulus = 180 GPa poisson = 0.3 yield = 1500 MPa inner_radius = 1 }\n';

describe('quadrants', () => {
  const loop = (site: string, tooth: number) => `${steel}
appliance spring ${site} {
  wire 0.017 in x 0.025 in of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 6 mm
    preactivate 10 deg toward lingual
    straight 8 mm
    preactivate 15 deg toward gingival
    straight 6 mm
    seat canine
    straight 4 mm
  }
  tube molar on tooth ${tooth + 6}, length 4 mm
  bracket canine on tooth ${tooth + 3}, width 3 mm
}`;
  it('gives the same canonical components on all four sides', () => {
    const [first, ...others] = [
      ['', 10],
      ['on upper left', 20],
      ['on lower left', 30],
      ['on lower right', 40],
    ].map(([site, tooth]) => {
      const appliance = resolveAppliance(loop(site as string, tooth as number));
      expect(appliance.teeth.get('canine')?.number).toBe((tooth as number) + 3);
      return analyseAppliance(appliance.design!).stages[0].state?.wrenches;
    });
    expect(first).toBeDefined();
    for (const other of others) expect(other).toEqual(first);
  });

  it('wants teeth that stand where the appliance sits, and that exist', () => {
    checkProblems(`${steel}appliance a on lower left {
  wire round 0.4 mm of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 20 mm
    seat canine
    straight 4 mm
  }
  tube molar on tooth 46, length 4 mm
//                    ^^ error tooth-number: Tooth 46 is the lower right first molar; this appliance sits on lower left. For that tooth the appliance says \`on lower right\` after its name.
  bracket canine on tooth 39, width 3 mm
//                        ^^ error tooth-number: 39 is no permanent tooth. ISO 3950 numbers are a quadrant, 1 to 4, and a place from the midline, 1 to 8: 16 is the upper right first molar.
}`);
  });

  it('knows only its own directions', () => {
    checkProblems(`${steel}appliance a {
  wire round 0.4 mm of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 20 mm
    bend 10 deg toward anterior
//                     ^^^^^^^^ error unknown-direction: "anterior" is not a direction that can stand here. Write mesial, distal, gingival, occlusal, buccal or lingual.
    seat canine
    straight 4 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
}`);
  });
});

describe('a whole arch', () => {
  /** A bar with legs out of every plane, so that all six components act on both sides. */
  const bar = (right: string, left: string, clauses = '') => `${steel}
appliance bar in upper arch {
  wire round 0.9 mm of steel
  path running anterior {
    straight 3 mm
    seat right_molar
    straight 5 mm
    ${right}
    bend 90 deg toward left radius 3 mm
    straight 30 mm
    bend 90 deg toward posterior radius 3 mm
    ${left}
    straight 5 mm
    seat left_molar
    straight 3 mm
  }
  tube right_molar on tooth 16, length 2 mm ${clauses}
  tube left_molar on tooth 26, length 2 mm
}`;
  const wrenches = (text: string) => {
    const { design } = resolveAppliance(text);
    return { design: design!, state: analyseAppliance(design!).stages[0].state! };
  };

  it('takes mesial, gingival and buccal from the tooth, mirrored on the left', () => {
    const { design } = wrenches(bar('', ''));
    const [right, left] = design.attachments.map(({ axes }) => axes);
    const close = (axes: Mat3, expected: number[]) =>
      expect(Math.max(...axes.map((value, k) => Math.abs(value - expected[k])))).toBeLessThan(1e-9);
    // Rows left, gingival, anterior; columns mesial, gingival, buccal.
    close(right, [0, 0, -1, 0, 1, 0, 1, 0, 0]);
    close(left, [0, 0, 1, 0, 1, 0, 1, 0, 0]);
    expect([handedness(right), handedness(left)]).toEqual([1, -1]);
  });

  it('gives mirrored teeth of a mirrored wire the same components', () => {
    // Run from either end, the wire turns toward gingival and then outward there.
    const one = wrenches(bar('preactivate 8 deg toward gingival preactivate 5 deg toward right', '')).state.wrenches;
    const other = wrenches(bar('', 'preactivate 5 deg toward left preactivate 8 deg toward gingival')).state.wrenches;
    for (const [here, there] of [
      [one[0], other[1]],
      [one[1], other[0]],
    ]) {
      expect(Math.min(...here.force.map(Math.abs))).toBeGreaterThan(0.01);
      for (const k of [0, 1, 2]) {
        expect(there.force[k]).toBeCloseTo(here.force[k], 3);
        expect(there.moment[k]).toBeCloseTo(here.moment[k], 2);
      }
    }
  });

  it('balances in the one frame of the arch', () => {
    const { design, state } = wrenches(
      bar('preactivate 8 deg toward gingival', 'preactivate 5 deg toward right', 'moved 0.2 mm gingival'),
    );
    const global = design.attachments.map(({ axes, seatedWire }, k) => ({
      place: seatedWire.position,
      force: apply(axes, state.wrenches[k].force),
      moment: apply(axes, state.wrenches[k].moment).map((x) => x * handedness(axes)) as unknown as Vec3,
    }));
    const arm = subtract(global[1].place, global[0].place);
    const [a, b] = global;
    const carried: Vec3 = [
      arm[1] * b.force[2] - arm[2] * b.force[1],
      arm[2] * b.force[0] - arm[0] * b.force[2],
      arm[0] * b.force[1] - arm[1] * b.force[0],
    ];
    const size = Math.max(...a.moment.map(Math.abs), ...carried.map(Math.abs));
    for (const k of [0, 1, 2]) {
      expect(Math.abs(a.force[k] + b.force[k])).toBeLessThan(1e-4 * Math.hypot(...a.force));
      expect(Math.abs(a.moment[k] + b.moment[k] + carried[k])).toBeLessThan(1e-4 * size);
    }
  });

  it('takes buccal from where an attachment faces, and never guesses', () => {
    checkProblems(`${steel}appliance a in lower arch {
  wire round 0.9 mm of steel
  path running left {
    straight 3 mm
    seat one
    straight 10 mm
    seat two
    straight 10 mm
    seat three
    straight 10 mm
    seat four
    straight 3 mm
  }
  tube one facing right, length 2 mm
  tube two length 2 mm
//     ^^^ error slot-direction-unknown: Which way mesial and buccal point at two is not known: it is on no tooth and does not say where it faces.
  tube three facing anterior, length 2 mm
//     ^^^^^ error slot-direction-unknown: Which way mesial and buccal point at three is not known: facing anterior, it could stand on either side of the midline; its tooth tells which.
  tube four on tooth 36, facing right, length 2 mm
//     ^^^^ error slot-direction-unknown: Which way mesial and buccal point at four is not known: it faces right, but tooth 36 is the lower left first molar.
}`);
  });

  it('knows only its own directions', () => {
    checkProblems(`${steel}appliance a in upper arch {
  wire round 0.4 mm of steel
  path running mesial {
//             ^^^^^^ error unknown-direction: "mesial" is not a direction that can stand here. Write left, right, anterior or posterior.
    straight 4 mm
    bend 10 deg toward buccal
//                     ^^^^^^ error unknown-direction: "buccal" is not a direction that can stand here. Write anterior, posterior, left, right, gingival or occlusal.
  }
}`);
  });
});

describe('arch forms in a path', () => {
  const archwire = (extra = '', slots = 'slot 0.022 in x 0.028 in, ') => `use "teeth"
${steel}appliance archwire in upper arch {
  wire round 0.4 mm of steel
  path running left {
    follow beta_arch(width = 58 mm, depth = 44 mm) from 48 mm right to 48 mm left { seat teeth }
  }
  tube on teeth 16 26, ${slots} length 4 mm
  bracket on teeth 15 .. 25, ${slots} width 3 mm ${extra}
}`;

  it('seats attachments at their teeth by the widths, in the form’s own direction', () => {
    const { design } = resolveAppliance(archwire());
    expect(design!.attachments.map(({ name }) => Number(name.slice(6)))).toEqual([
      16, 15, 14, 13, 12, 11, 21, 22, 23, 24, 25, 26,
    ]);
    const form = betaArch(58, 44);
    // Widths of handbook 7.1: a first molar's middle stands 8.5 + 6.5 + 7.5 + 7 + 7 + 5 from the midline.
    const [first] = design!.attachments;
    const start = form.pointAt(-41.5);
    const meant: Record<string, number> = { tooth_11: -4.25, tooth_21: 4.25, tooth_13: -18.75, tooth_26: 41.5 };
    for (const { name, seatedWire } of design!.attachments) {
      if (!(name in meant)) continue;
      const [x, z] = form.pointAt(meant[name]);
      const [left, , anterior] = subtract(seatedWire.position, first.seatedWire.position);
      expect(Math.hypot(left - x + start[0], anterior - z + start[1])).toBeLessThan(ARCH_TOLERANCE);
    }
  });

  it('fits its slots without force, mirrored alike', () => {
    const { design } = resolveAppliance(archwire());
    const { state } = analyseAppliance(design!).stages[0];
    for (const { force, moment } of state!.wrenches) {
      expect(Math.hypot(...force)).toBeLessThan(1e-3);
      expect(Math.hypot(...moment)).toBeLessThan(1e-2);
    }
  });

  it('torques incisors alike on both sides', () => {
    const { design } = resolveAppliance(
      archwire()
        .replace('teeth 15 .. 25,', 'teeth 15 .. 12 22 .. 25,')
        .replace('}\n}', '}\n}')
        .replace(/\n}$/, '\n  bracket on teeth 11 21, width 3 mm, torque 5 deg\n}'),
    );
    const { state } = analyseAppliance(design!).stages[0];
    const of = (tooth: number) =>
      state!.wrenches[design!.attachments.findIndex(({ name }) => name === `tooth_${tooth}`)];
    for (const [right, left] of [
      [11, 21],
      [12, 22],
      [13, 23],
    ]) {
      for (const k of [0, 1, 2]) {
        expect(of(left).moment[k]).toBeCloseTo(of(right).moment[k], 2);
        expect(of(left).force[k]).toBeCloseTo(of(right).force[k], 2);
      }
    }
    // The wire turns the slots back.
    expect(of(11).moment[0]).toBeLessThan(-1);
  });

  /**
   * Carried across a step δ between clamps L apart the wire's way is longer by 0.6 δ²/L (the slope of the clamped beam's
   * deflection 3ξ² - 2ξ³, squared and halved): sliding slots give it. An elastic beam's; this wire would yield.
   */
  it('slides round the form as far as a displaced tooth asks for', () => {
    const rise = 0.3;
    const text = archwire(', sliding')
      .replace('teeth 15 .. 25,', 'teeth 15 14 12 .. 25,')
      .replace(/\n}$/, `\n  bracket on tooth 13, slot 0.022 in x 0.028 in, width 3 mm, moved ${rise} mm gingival\n}`)
      .replace('length 4 mm\n', 'length 4 mm, sliding\n');
    const { design } = resolveAppliance(text);
    const result = analyseAppliance(design!, { yielding: 'elastic' });
    expect(result.failure).toBeUndefined();
    const { state } = result.stages[0];
    const index = (tooth: number) => design!.attachments.findIndex(({ name }) => name === `tooth_${tooth}`);
    for (const [first, second] of [
      [14, 13],
      [13, 12],
    ]) {
      const between = Math.abs(design!.attachments[index(second)].station - design!.attachments[index(first)].station);
      const drawn = Math.abs(state!.slid[index(first)] - state!.slid[index(second)]);
      // The form's own curve between two slots, shear and stretch.
      expect(Math.abs(drawn / ((0.6 * rise * rise) / (between - 3)) - 1)).toBeLessThan(0.02);
    }
  });

  it('says what it needs', () => {
    checkProblems(`${steel}appliance a in upper arch {
  wire round 0.4 mm of steel
  path running left {
    follow beta_arch(width = 58 mm, depth = 44 mm) from tooth 16 to 40 mm left
//                                                            ^^ error arch-form: Where tooth 16 stands follows from the widths of the teeth, but there is no value \`upper_central_incisor_width\` here. Write \`use "teeth"\`, or a place such as \`30 mm left\`.
    follow beta_arch(width = 58 mm) from 3 mm right to 3 mm left
//         ^^^^^^^^^ error arch-form: beta_arch needs its depth: \`beta_arch(width = 55 mm, depth = 40 mm)\`.
    follow parabola(width = 58 mm, depth = 3 mm) from 3 mm right to 3 mm left
//         ^^^^^^^^ error arch-form: "parabola" is no arch form. Write beta_arch or catenary_arch.
  }
}`);
  });
});
