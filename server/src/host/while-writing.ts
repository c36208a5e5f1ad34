/** Leaves no half file behind where the program is ended while it writes. */
import { rmSync } from 'node:fs';

const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/**
 * Runs `write`, and removes `unfinished` where a signal comes meanwhile, which then ends the program as it would have.
 * Outside of this, signals end the program at once, however long it computes.
 */
export async function whileWriting<T>(unfinished: string, write: () => Promise<T>): Promise<T> {
  const end = (signal: NodeJS.Signals): void => {
    rmSync(unfinished, { force: true });
    forget();
    process.kill(process.pid, signal);
  };
  const forget = (): void => {
    for (const signal of signals) process.off(signal, end);
  };
  for (const signal of signals) process.on(signal, end);
  try {
    return await write();
  } finally {
    forget();
  }
}
