/**
 * A plausibility check, common practice, no source: a closing loop of beta-titanium closes six to seven millimetres in about
 * five months, activated once and then twice or so again at visits six to eight weeks apart. Nothing is fitted to it: rate,
 * root surfaces and roots are the published ones (handbook 6.4, 6.5, 7), so that it is held to by a factor of two only.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { evaluateAppliance } from '#model/evaluate';
import { closingWords } from '#model/visit-words';
import { reportVisits } from '#report/tooth-response';
import { visitRowsOf } from '#report/tooth-response-text';
import { resolveAppliance } from '../model/resolve-text';

const text = readFileSync(join(import.meta.dirname, '../../examples/17-visits.spring'), 'utf8');
const MONTH = (365.25 / 12) * 86_400;

it('closes the space of the example about as such loops are said to', () => {
  const evaluated = evaluateAppliance(resolveAppliance(text), text);
  const { plan } = evaluated;
  const visits = reportVisits(evaluated);
  if (!visits || !plan || 'reason' in plan) throw new Error('not followed');
  const rows = visitRowsOf(visits, { force: 'gf' });
  console.log([closingWords(plan), ...rows.map((row) => row.join(' | '))].join('\n'));
  const { usual } = plan;
  expect(usual.end.kind).toBe('closed');
  expect(usual.duration / MONTH).toBeGreaterThan(5 / 2);
  expect(usual.duration / MONTH).toBeLessThan(5 * 2);
  expect(usual.reactivations).toBeGreaterThanOrEqual(1);
  expect(usual.reactivations).toBeLessThanOrEqual(4);
  // Crowns first, then roots: the front has tipped most at some time before the end of the first interval.
  const first = usual.points
    .filter(({ time }) => time <= usual.visits[1].time)
    .map(({ groups }) => groups[1].turned[2]);
  expect(Math.min(...first)).toBeLessThan(first[first.length - 1]);
});
