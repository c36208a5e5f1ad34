/** What language models are told: the words of the command line, of the texts alone. */
import { expect, it } from 'vitest';
import { defaultSettings } from '#features/settings';
import { explainText, reportText } from '#lsp/report-text';
import { createWorkspace } from '#workspace/workspace';
import { loop, vBend } from '../features/samples';

const uri = 'file:///files/a.spring';
const texts: Record<string, string> = { [uri]: vBend };
const settings = async () => defaultSettings;
const asked = (command: 'check' | 'analyze') => ({ command, files: [{ uri, path: 'a.spring' }] });
const workspace = () => createWorkspace({ readFile: async (wanted) => texts[wanted], trialsLater: true });

it('tells verdicts with figures, and the caution', async () => {
  const text = await reportText(asked('check'), workspace(), settings);
  expect(text).toMatch(/^a\.spring:\d+:\d+: error: Requirement missed: .* \[requirement-missed\]$/m);
  expect(text).toMatch(/1 met, 1 missed/);
  expect(text).toMatch(/licensed/);
});

it('says the same whatever was computed before', async () => {
  const fresh = await reportText(asked('analyze'), workspace(), settings);
  const used = workspace();
  used.open(uri, loop, 1);
  await reportText(asked('analyze'), used, settings);
  used.open(uri, vBend, 2);
  expect(await reportText(asked('analyze'), used, settings)).toBe(fresh);
  // Of a broken text there are no figures, though there were before.
  const broken = vBend.replace('straight 4 mm', 'straight 4 deg');
  used.open(uri, broken, 3);
  const after = await reportText(asked('analyze'), used, settings);
  expect(after).toMatch(/unit-mismatch/);
  expect(after).not.toMatch(/ gf/);
});

it('explains a finding, and lists them all for one that there is not', () => {
  expect(explainText({ id: 'stress-past-yield' })).toMatch(
    /^.+ \(stress-past-yield, (error|warning|information)\)\n\n/,
  );
  expect(explainText({ id: 'syntax' })).toMatch(/\(syntax, error\)/);
  expect(explainText({ id: 'nothing' })).toMatch(
    /^There is no finding "nothing"\. There are:\nactivation-not-declared: /,
  );
});
