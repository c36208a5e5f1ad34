/**
 * Wires against CalculiX 2.20 (general finite elements, Debian calculix-ccx), both run here. These are the cases that take
 * a few seconds; all of them: `npm run bench -- calculix`, examples/validation/finite-elements.md.
 */
import { expect, test } from 'vitest';
import { finiteElementCases } from '../bench/calculix/cases/all';
import { differences, extrapolated, finiteElementAnswer, ownAnswer } from '../bench/calculix/compare';
import { calculixPresent } from '../bench/calculix/run';
import { aimOf } from '../bench/calculix/table';

const quick = finiteElementCases.filter((one) => one.quick);

if (!calculixPresent()) {
  test('finite elements', () => {
    console.log('not run: the program ccx (Debian package calculix-ccx) is not installed.');
    expect(quick.length).toBeGreaterThan(4);
  });
} else {
  test.each(quick)(
    '$name: $about',
    (one) => {
      const own = ownAnswer(one);
      const coarse = finiteElementAnswer(own, one.meshes[0]);
      const fine = finiteElementAnswer(own, one.meshes[1]);
      const further = differences(own.wrenches, extrapolated(coarse, fine, one.meshes));
      const shown = [coarse, fine, further].map(
        ({ force, moment }) => `force ${(100 * force).toFixed(2)} %, moment ${(100 * moment).toFixed(2)} %`,
      );
      console.log(`${one.name}: coarse ${shown[0]}; fine ${shown[1]}; extrapolated ${shown[2]}`);
      // The aim of the mechanics note: 1 % of the largest of its kind, 2 % past yield; and converged on both sides.
      for (const kind of ['force', 'moment'] as const) {
        expect(fine[kind]).toBeLessThan(aimOf(one));
        expect(further[kind]).toBeLessThan(aimOf(one));
        if (own.mesh) expect(own.mesh[kind]).toBeLessThan(0.001);
      }
    },
    240_000,
  );
}
