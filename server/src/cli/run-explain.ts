/** `explain`: the page of one finding, or the list of all. */
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { syntaxPage } from '#model/diagnostics/syntax';
import { nearest } from '#model/names/nearest';
import { adjustable } from '#model/severities';
import { ok, usageError } from './exit-codes';
import type { CliHost } from './run-report';

const pages = new Map(
  [...DIAGNOSTICS.values(), syntaxPage]
    .sort((a, b) => (a.code < b.code ? -1 : 1))
    .map(({ code, severity, title, documentation }) => [code, { code, severity, title, documentation }]),
);

export function runExplain(id: string | undefined, host: CliHost): number {
  if (id === undefined) {
    const width = Math.max(...[...pages.keys()].map((code) => code.length));
    for (const { code, title } of pages.values()) host.writeOut(`${code.padEnd(width)}  ${title}\n`);
    return ok;
  }
  const page = pages.get(id);
  if (page === undefined) {
    const similar = nearest(id, [...pages.keys()]);
    const hint = similar === undefined ? '"springwright explain" lists them all.' : `Did you mean "${similar}"?`;
    host.writeErr(`error: there is no finding "${id}". ${hint}\n`);
    return usageError;
  }
  const severity = page.severity === 'information' ? 'note' : page.severity;
  const setting = adjustable(id)
    ? 'It can be silenced, or taken more or less gravely.'
    : 'It stops the computation, so that it cannot be silenced.';
  host.writeOut(`${host.paint.strong(page.title)} (${id}, ${severity})\n\n${page.documentation}\n\n${setting}\n`);
  return ok;
}
