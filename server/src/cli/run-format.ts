/** `format`: files laid out anew, or a word on those that are not. */
import { formatSound } from '#grammar/format-sound';
import { parse } from '#grammar/parser';
import { standardInput } from '#host/spring-file';
import { textPositions } from '#report/text-position';
import { failed, ok, usageError } from './exit-codes';
import type { CliHost } from './run-report';

export interface FormatRequest {
  readonly paths: readonly string[];
  /** Nothing is written. */
  readonly check: boolean;
}

/** Prints a line for each file that is, or would be, changed, and yields the exit code. */
export async function runFormat({ paths, check }: FormatRequest, host: CliHost): Promise<number> {
  const { files, mistakes } = await host.findFiles(paths);
  if (mistakes.length > 0) {
    host.writeErr(mistakes.map((line) => `${line}\n`).join(''));
    return usageError;
  }
  let code = ok;
  const tell = (file: string, message: string) => {
    code = failed;
    host.writeErr(`${host.displayPath(file)}${message}\n`);
  };
  for (const file of files) {
    const content = await host.readFile(file);
    if ('unreadable' in content) {
      tell(file, `: error: ${content.unreadable}`);
      continue;
    }
    const { text } = content;
    const [problem] = parse(text).problems;
    if (problem !== undefined) {
      const { line, column } = textPositions(text)(problem.span.start);
      tell(file, `:${line}:${column}: error: ${problem.message} What stands around it keeps its layout.`);
    }
    const laidOut = formatSound(text);
    if (host.displayPath(file) === standardInput && !check) {
      host.writeOut(laidOut);
      continue;
    }
    if (laidOut === text) continue;
    if (check) {
      tell(file, ': is laid out otherwise; "springwright format" changes it.');
      continue;
    }
    const failure = await host.writeFile(file, new TextEncoder().encode(laidOut));
    if (failure === undefined) host.writeOut(`${host.displayPath(file)}\n`);
    else tell(file, `: error: ${failure}`);
  }
  return code;
}
