/** What differs between a terminal and a pipe: colours and the line that says what is being worked on. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { terminalPaint } from '#cli/terminal-paint';
import { terminalProgress } from '#cli/terminal-progress';
import { plain } from '#report/paint';

afterEach(() => vi.unstubAllEnvs());

describe('colours', () => {
  it('are for terminals alone, and not where NO_COLOR is set', () => {
    expect(terminalPaint({ isTTY: true }, undefined).bad('x')).toBe('\u001b[31mx\u001b[39m');
    expect(terminalPaint({ isTTY: true }, '').bad('x')).toBe('\u001b[31mx\u001b[39m');
    expect(terminalPaint({ isTTY: true }, '1')).toBe(plain);
    expect(terminalPaint({ isTTY: false }, undefined)).toBe(plain);
    expect(terminalPaint({}, undefined)).toBe(plain);
  });
});

describe('progress', () => {
  /** What is on the line of a terminal after what was written to it. */
  const line = (written: string) => written.slice(written.lastIndexOf('\r\u001b[K') + 4);
  const terminal = (more: object) => {
    const stream = { written: '', write: (text: string) => (stream.written += text), ...more };
    return stream;
  };

  it('keeps one line, cut to the width, and takes it away', () => {
    vi.stubEnv('TERM', 'xterm');
    const stream = terminal({ isTTY: true, columns: 12 });
    const progress = terminalProgress(stream);
    progress('1 of 2: a.spring');
    expect(line(stream.written)).toBe('1 of 2: a.s');
    progress('2 of 2');
    expect(line(stream.written)).toBe('2 of 2 …');
    progress(undefined);
    expect(line(stream.written)).toBe('');
    expect(stream.written).not.toContain('\n');
    const length = stream.written.length;
    progress(undefined);
    expect(stream.written).toHaveLength(length);
  });

  it('is silent in a pipe, and on a terminal that cannot erase', () => {
    for (const [stream, term] of [
      [terminal({}), 'xterm'],
      [terminal({ isTTY: true }), 'dumb'],
    ] as const) {
      vi.stubEnv('TERM', term);
      const progress = terminalProgress(stream);
      progress('1 of 2');
      progress(undefined);
      expect(stream.written).toBe('');
    }
  });
});
