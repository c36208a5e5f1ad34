/**
 * The same wires in CalculiX (general finite elements, Debian calculix-ccx), side by side. Both are run here; nothing is
 * stored. `WRITE_TABLE=1` renews examples/validation/finite-elements.md; `CASES=…` runs those alone whose name has this in it.
 */
import { writeFileSync } from 'node:fs';
import { finiteElementCases } from './calculix/cases/all';
import { differences, extrapolated, finiteElementAnswer, ownAnswer, ownTime } from './calculix/compare';
import { calculixPresent } from './calculix/run';
import { type Comparison, documentOf, tableLines, verdict } from './calculix/table';

if (!calculixPresent()) {
  console.log('not run: the program ccx (Debian package calculix-ccx) is not installed.');
} else {
  const comparisons: Comparison[] = [];
  const { CASES: wanted = '', WRITE_TABLE: write } = process.env;
  for (const one of finiteElementCases.filter(({ name }) => name.includes(wanted))) {
    const own = ownAnswer(one);
    const coarse = finiteElementAnswer(own, one.meshes[0]);
    const fine = finiteElementAnswer(own, one.meshes[1]);
    const comparison = {
      one,
      own,
      coarse,
      fine,
      extrapolated: differences(own.wrenches, extrapolated(coarse, fine, one.meshes)),
      milliseconds: ownTime(own.design),
    };
    comparisons.push(comparison);
    console.log(`${one.name}: ${verdict(comparison)}`);
    console.log(tableLines([comparison])[2]);
  }
  if (write && wanted === '') writeFileSync('examples/validation/finite-elements.md', documentOf(comparisons));
}
