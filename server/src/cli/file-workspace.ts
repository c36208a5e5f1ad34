/** A workspace whose modules are read as the command's own files are, and what keeps a file from being used. */
import type { AnalysisOptions } from '#core/analysis/analysis';
import type { Span } from '#grammar/tree';
import type { FileText } from '#host/spring-file';
import { textPositions } from '#report/text-position';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace, type Workspace } from '#workspace/workspace';
import type { CliHost } from './run-report';

/** @param readFile  by path; undefined where there is no such file */
export function fileWorkspace(
  readFile: (path: string) => Promise<FileText | undefined>,
  host: CliHost,
  analysis: Partial<AnalysisOptions> = {},
): Workspace {
  return createWorkspace({
    readFile: async (uri) => {
      const content = await readFile(host.pathOf(uri));
      if (content === undefined || 'text' in content) return content?.text;
      return content.missing ? undefined : content;
    },
    analysis,
  });
}

/** The finding that leaves open what a file says, with its place, in one line; undefined where there is none. */
export function obstacle(shown: string, { problems, text }: Snapshot): string | undefined {
  const problem = problems.find(({ code }) => code === 'syntax' || code === 'module-not-found');
  return problem && findingLine(shown, text, problem);
}

/** The first error of a file within a span, or in all of it, with its place, in one line. */
export function firstError(shown: string, { problems, text }: Snapshot, within?: Span): string | undefined {
  const problem = problems.find(
    ({ severity, span }) =>
      severity === 'error' && (within === undefined || (span.start >= within.start && span.end <= within.end)),
  );
  return problem && findingLine(shown, text, problem);
}

function findingLine(shown: string, text: string, { span, message, code }: Snapshot['problems'][number]): string {
  const { line, column } = textPositions(text)(span.start);
  return `${shown}:${line}:${column}: error: ${message} [${code}]\n`;
}
