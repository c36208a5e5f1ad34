import { describe, expect, it } from 'vitest';
import { thickest } from '#drawing/wire';
import { evaluateAppliance } from '#model/evaluate';
import { formedBends } from '#model/formed-bends';
import { outerSection, stockAt, stretches } from '#model/stock';
import { checkProblems } from './fixture';
import { resolveAppliance } from './resolve-text';

function appliance(path: string, attachments = 'tube molar length 4 mm\n  bracket canine width 3 mm'): string {
  return `use "alloys"
use "slots"
section thin = round 0.3 mm
appliance test {
  wire 0.4 mm x 0.6 mm of steel
  path running mesial {
    straight 4 mm
    seat molar
    straight 6 mm
    ${path}
    seat canine
    straight 4 mm
  }
  ${attachments}
}
`;
}

function resolved(path: string) {
  const found = resolveAppliance(appliance(path));
  if (!found.design) throw new Error('no design');
  return { ...found, design: found.design };
}

describe('a stepped wire', () => {
  it('is another from the step on, with the alloy that it had before unless it says so', () => {
    const { design } = resolved(`section thin
    straight 5 mm
    section 0.4 mm x 0.5 mm ribbonwise of beta_titanium doubled
    straight 5 mm
    section round 0.35 mm
    straight 5 mm`);
    const made = stretches(design).map(({ from, to, stock: { section, alloy, count } }) => [
      ...[from, to, alloy.name, count],
      section.kind === 'round' ? section.diameter : [section.height, section.width],
    ]);
    expect(made).toEqual([
      [0, 10, 'steel', 1, [0.4, 0.6]],
      [10, 15, 'steel', 1, 0.3],
      [15, 20, 'beta_titanium', 2, [0.5, 0.4]],
      [20, 29, 'beta_titanium', 1, 0.35],
    ]);
    expect(design.elements.slice(0, 2).map(({ stock }) => stock)).toEqual([undefined, undefined]);
    expect(stockAt(design, 12).section).toEqual({ kind: 'round', diameter: 0.3 });
    expect(stockAt(design, 10).section).toMatchObject({ height: 0.4 });
  });

  it('has no stock of its own where nothing changes', () => {
    const { design } = resolved('straight 5 mm');
    expect(design.elements.every((element) => !('stock' in element))).toBe(true);
    expect(stretches(design)).toHaveLength(1);
  });

  it('bends by the radius, winds by the pitch and springs back as the wire that is there', () => {
    const bends = `bend 20 deg toward gingival
    bend 20 deg toward occlusal
    helix 2 turns diameter 3 mm toward gingival
    let there = wire.height`;
    const own = resolved(bends);
    const thin = resolved(`section thin\n    ${bends}`);
    const doubled = resolved(`section thin doubled\n    ${bends}`);
    const bent = ({ steps }: typeof own, kind: string) => steps.filter((step) => step.kind === kind);
    // Usual radius (k + 0.5) x thickness in the plane of the bend; both are of steel, so that k cancels.
    expect(bent(thin, 'bend')[0].radius).toBeCloseTo(((bent(own, 'bend')[0].radius ?? 0) * 0.3) / 0.4, 12);
    // Each of two wires that are not joined is bent by itself; beside each other their coils take twice the room.
    expect(bent(doubled, 'bend')[0].radius).toBeCloseTo(bent(thin, 'bend')[0].radius ?? 0, 12);
    expect([own, thin, doubled].map((one) => bent(one, 'helix')[0].pitch)).toEqual([0.6, 0.3, 0.6]);
    const load = (one: typeof own) => formedBends(one)[0].load.angle;
    expect(load(thin)).not.toBeCloseTo(load(own), 3);
    expect(load(doubled)).toBeCloseTo(load(thin), 12);
  });

  it('gives a part the sizes of the wire that is there', () => {
    const text = appliance('section thin\n    arm()').replace(
      'appliance test',
      'part arm() {\n  straight 10 * wire.height\n}\nappliance test',
    );
    const straights = resolveAppliance(text).steps.filter(({ kind }) => kind === 'straight');
    expect(straights[2].to - straights[2].from).toBeCloseTo(3, 12);
  });

  it('fits the slot as the wire that sits in it', () => {
    const slots = `tube molar slot 0.5 mm x 0.7 mm, length 4 mm
  bracket canine slot 0.35 mm x 0.5 mm, width 3 mm`;
    checkProblems(appliance('section thin\n    straight 6 mm', slots));
    checkProblems(
      appliance(
        'section thin doubled\n    straight 6 mm',
        `${slots}
  //             ^^^^^^^^^^^^^^^^^^^^^ error wire-does-not-fit-slot: The wire is 0.6 mm wide, but the slot is only 0.5 mm deep`,
      ),
    );
  });

  it('bears twice the forces where it lies doubled: each of two equal wires bears half', () => {
    const forces = (step: string) => {
      const text = appliance(
        'straight 6 mm',
        'tube molar length 4 mm\n  bracket canine width 3 mm moved 0.5 mm gingival',
      )
        .replace('path running mesial {', `path running mesial {\n    ${step}`)
        .replaceAll('straight 4 mm', 'straight 5 mm');
      const state = evaluateAppliance(resolveAppliance(text), text).analysis?.stages[0].state;
      return state?.wrenches.flatMap(({ force, moment }) => [...force, ...moment]) ?? [];
    };
    const [single, doubled] = [forces('section thin'), forces('section thin doubled')];
    expect(Math.max(...single.map(Math.abs))).toBeGreaterThan(0.1);
    // Twice every stiffness in the same shape: the equations are the same but for that factor.
    for (const [index, value] of doubled.entries()) expect(value / 2).toBeCloseTo(single[index], 6);
  });

  it('is drawn as thick as it is there', () => {
    const { design } = resolved('section round 0.8 mm doubled\n    straight 6 mm');
    expect(thickest(stretches(design), 'buccal')).toBe(0.8);
    expect(thickest(stretches(design), 'occlusal')).toBe(1.6);
    expect(outerSection({ section: { kind: 'round', diameter: 0.8 }, count: 2 })).toMatchObject({
      height: 0.8,
      width: 1.6,
    });
  });

  it('is changed by the appliance, not by a part', () => {
    checkProblems(`use "alloys"
part arm() {
    section round 0.014 in
//  ^^^^^^^^^^^^^^^^^^^^^^ error section-in-part: A part does not change the wire
    straight 10 mm
}
`);
  });

  it('names an alloy and a section that there are', () => {
    checkProblems(
      appliance(`section thick
    //      ^^^^^ error unknown-name
    section round 0.3 mm of stel
    //                      ^^^^ error unknown-name: Did you mean "steel"?
    straight 5 mm`),
    );
  });
});
