import { describe, expect, it } from 'vitest';
import { DiagnosticSeverity } from 'vscode-languageserver-types';
import { provideCodeActions } from '#features/code-actions';
import { provideDiagnostics } from '#features/diagnostics';
import { readFixture, snapshotOf, wholeText } from './fixture';
import { loop, vBend } from './samples';

describe('diagnostics', () => {
  it('are none for a whole file whose requirements hold', async () => {
    const errors = provideDiagnostics(await snapshotOf(loop)).filter(({ severity }) => severity === 1);
    expect(errors).toEqual([]);
  });

  it('stand at the place of a mistake, with its code', async () => {
    await checkDiagnostics(`
use "alloys"
appliance segment {
  wire 0.016 in x 0.022 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 7 deg
             ^^^^^ error unit-mismatch: length
    bend 90 deg toward sideways
                       ^^^^^^^^ error unknown-direction: sideways
    straight gap
             ^^^ error unknown-name: gap
    seat canine
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
}
`);
  });

  it('say which requirement is missed, by how much and why it is asked for', async () => {
    const text = vBend.replace('0.1 N because', '90 N because');
    const [missed] = provideDiagnostics(await snapshotOf(text)).filter(({ code }) => code === 'requirement-missed');
    expect(missed.severity).toBe(DiagnosticSeverity.Error);
    expect(missed.message).toContain('canine.force.occlusal');
    expect(missed.message).toContain('it has to fail here');
    const line = text.split('\n')[missed.range.start.line];
    expect(line).toContain('canine.force.occlusal >= 90 N');
  });

  it('report a half-typed line and go on with the rest of the file', async () => {
    const diagnostics = provideDiagnostics(await snapshotOf(`${vBend}\nappliance second {\n  wire `));
    expect(diagnostics.length).toBeGreaterThan(0);
    expect(diagnostics.every(({ message }) => String(message).length > 10)).toBe(true);
  });

  it('report a module that is not there at its use line', async () => {
    await checkDiagnostics(`
use "./nowhere.spring"
    ^^^^^^^^^^^^^^^^^^ error module-not-found: nowhere
`);
  });
});

describe('fixes', () => {
  it('replace the place of the problem', async () => {
    const snapshot = await snapshotOf(vBend.replace('straight far', 'straight fra'));
    const actions = provideCodeActions(snapshot, wholeText);
    const action = actions.find(({ title }) => title.includes('far'));
    expect(action?.diagnostics?.[0].code).toBe('unknown-name');
    const [edit] = Object.values(action?.edit?.changes ?? {})[0];
    expect(edit.newText).toBe('far');
  });
});

/** Each note is the start of a diagnostic: severity, code, exact range and a part of its message. */
async function checkDiagnostics(marked: string): Promise<void> {
  const { text, expected } = readFixture(marked);
  const diagnostics = provideDiagnostics(await snapshotOf(text));
  for (const { range, kind, text: part } of expected) {
    const [severity, code] = kind.split(' ');
    const found = diagnostics.find((one) => one.code === code && one.range.start.line === range.start.line);
    expect(found, `${code} in line ${range.start.line}`).toMatchObject({
      range,
      severity: severity === 'error' ? 1 : 2,
    });
    expect(found?.message).toContain(part);
  }
}
