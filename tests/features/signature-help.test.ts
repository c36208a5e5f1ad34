import { describe, expect, it } from 'vitest';
import { defaultSettings } from '#features/settings';
import { provideSignatureHelp } from '#features/signature-help';
import { readFixture, snapshotOf } from './fixture';
import { loop } from './samples';

describe('signature help', () => {
  const label = 'vertical(height = 7 mm in 4 mm .. 10 mm, width = 2 mm)';

  it('shows the parameters of a part with defaults and ranges, the first not given marked', async () => {
    expect(await shown('vertical($0)')).toEqual({ label, active: 'height = 7 mm in 4 mm .. 10 mm' });
    expect(await shown('vertical(height = 8 mm, $0)')).toEqual({ label, active: 'width = 2 mm' });
  });

  it('marks the parameter whose value is being written, in whatever order', async () => {
    expect(await shown('vertical(width = $0')).toEqual({ label, active: 'width = 2 mm' });
    expect(await shown('vertical(width = 2 mm, height = 8 $0')).toMatchObject({ active: /^height/ });
    expect(await shown('vertical(width = (2 mm + 1 $0mm)')).toMatchObject({ active: 'width = 2 mm' });
    expect(await shown('vertical(wi$0')).toMatchObject({ active: 'width = 2 mm' });
  });

  it('marks none once all are given', async () => {
    expect(await shown('vertical(height = 8 mm, width = 3 mm, $0)')).toEqual({ label, active: undefined });
  });

  it('shows a function inside of an argument', async () => {
    expect(await shown('vertical(height = min(8 mm, $0')).toEqual({ label: 'min(a, b)', active: 'b' });
    expect(await shown('straight arc($0')).toEqual({ label: 'arc(radius, angle)', active: 'radius' });
  });

  it('says what a parameter is for, its dimension, default and range', async () => {
    const documented = loop.replace('(height = 7 mm', '(\n  /// From the arms to the top.\n  height = 7 mm');
    const help = await helpAt(documented, 'vertical($0)');
    expect(JSON.stringify(help?.signatures[0].parameters?.[0].documentation)).toContain('From the arms to the top.');
    expect(JSON.stringify(help?.signatures[0].parameters?.[0].documentation)).toContain(
      'length, 7 mm unless given, allowed 4 mm .. 10 mm',
    );
    expect(JSON.stringify(help?.signatures[0].documentation)).toContain('An open vertical loop.');
  });

  it('is none outside of parentheses, in comments and for unknown parts', async () => {
    for (const line of ['$0', 'vertical(height = 8 mm) $0', '// vertical($0', 'unheard_of($0', 'straight (2 mm $0']) {
      expect(await helpAt(loop, line), line).toBeNull();
    }
  });
});

async function shown(line: string) {
  const help = await helpAt(loop, line);
  const signature = help?.signatures[help.activeSignature ?? 0];
  const active = signature?.parameters?.[help?.activeParameter ?? 0]?.label as [number, number] | undefined;
  return { label: signature?.label, active: active && signature?.label.slice(...active) };
}

/** With a line of the path put in the place of another. */
async function helpAt(base: string, line: string) {
  const { text, cursor } = readFixture(base.replace('    vertical(height = 8 mm) as loop', `    ${line}`));
  return provideSignatureHelp(await snapshotOf(text), cursor!, defaultSettings);
}
