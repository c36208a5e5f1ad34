/**
 * Stands around every request: a feature that throws is logged and answers with nothing, a cancelled
 * request is not begun, and the time each takes is kept.
 */
import { type CancellationToken, type Connection, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import type { Host } from './host';
import type { RequestEffort } from './protocol';

export type Handler<P, R> = (params: P, token: CancellationToken) => Promise<R | ResponseError<void>>;

export interface Guard {
  /** `answer` may throw or reject; the request then yields `nothing`. */
  request<P, R>(
    name: string,
    nothing: R,
    answer: (params: P, token: CancellationToken) => R | ResponseError<void> | Promise<R | ResponseError<void>>,
  ): Handler<P, R>;
  /** Runs a task of the server's own that may fail. */
  task(name: string, run: () => void | Promise<void>): Promise<void>;
  readonly effort: Readonly<Record<string, RequestEffort>>;
}

export const cancelled = (): ResponseError<void> =>
  new ResponseError<void>(LSPErrorCodes.RequestCancelled, 'The request was cancelled.');

export const outdated = (): ResponseError<void> =>
  new ResponseError<void>(LSPErrorCodes.ContentModified, 'The document has changed since.');

export function createGuard(connection: Connection, host: Host): Guard {
  const effort: Record<string, RequestEffort> = {};

  const record = (name: string, started: number, failed: boolean): void => {
    const taken = host.now() - started;
    const { count, failures, total, longest } = effort[name] ?? { count: 0, failures: 0, total: 0, longest: 0 };
    effort[name] = {
      count: count + 1,
      failures: failures + (failed ? 1 : 0),
      total: total + taken,
      longest: Math.max(longest, taken),
    };
  };

  const guarded = async <R>(name: string, nothing: R, run: () => R | Promise<R>): Promise<R> => {
    const started = host.now();
    let failed = false;
    try {
      return await run();
    } catch (error) {
      failed = true;
      connection.console.error(`${name} failed: ${error instanceof Error ? (error.stack ?? error.message) : error}`);
      return nothing;
    } finally {
      record(name, started, failed);
    }
  };

  return {
    request: (name, nothing, answer) => async (params, token) =>
      token.isCancellationRequested ? cancelled() : guarded(name, nothing, () => answer(params, token)),
    task: (name, run) => guarded<void>(name, undefined, run),
    effort,
  };
}
