/**
 * The handbook's check cases, from `.spring` text through the product's own parser, model and solver. Every row is
 * held to its tolerance with bending only, as its source is, and shown with shear and stretch on as well. The table is
 * printed; with WRITE_TABLE=1 in the environment it is also written to examples/validation/table.md.
 */
import { writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { imbalance } from './balance';
import { type Check, difference, type Row, Solver } from './row';
import { barRows } from './rows/bars';
import { bendRows } from './rows/bends';
import { cantileverRows } from './rows/cantilevers';
import { formingRows } from './rows/forming';
import { loopRows } from './rows/loops';
import { ringRows } from './rows/rings';
import { sectionRows } from './rows/sections';
import { tableOf } from './table';

const rows: readonly Row[] = [
  ...sectionRows,
  ...cantileverRows,
  ...bendRows,
  ...loopRows,
  ...barRows,
  ...formingRows,
  ...ringRows,
].sort((a, b) => Number(a.row.slice(1)) - Number(b.row.slice(1)));

const results: { row: Row; checks: Check[]; full: Check[] }[] = [];
/** The sources are bending-only. */
const asSource = new Solver('bending-only');
const full = new Solver('full');
let balanceNote = '';

describe('handbook check cases', () => {
  for (const row of rows) {
    test(`${row.row} ${row.title} (${row.source})`, () => {
      const checks = row.checks(asSource);
      results.push({ row, checks, full: row.checks(full) });
      for (const check of checks) {
        if (check.information) continue;
        expect(
          difference(check),
          `${check.quantity}: ${check.obtained}, expected ${check.expected}`,
        ).toBeLessThanOrEqual(check.tolerance);
      }
    });
  }

  test('C60 every equilibrium above is balanced to 1e-9 of its largest term (statics)', () => {
    const states = [...asSource.states, ...full.states];
    expect(states.length).toBeGreaterThan(100);
    let worst = 0;
    for (const { design, state } of states) {
      const { force, moment } = imbalance(design, state);
      worst = Math.max(worst, force, moment);
    }
    balanceNote = `C60: ${states.length} equilibria, largest imbalance ${worst.toExponential(1)} of its largest term.`;
    expect(worst).toBeLessThan(1e-9);
  });
});

afterAll(() => {
  const text = tableOf(results, balanceNote);
  console.log(text);
  if (process.env.WRITE_TABLE) writeFileSync('examples/validation/table.md', text);
});
