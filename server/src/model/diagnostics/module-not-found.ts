import { alternatives, diagnostic, replacement } from './diagnostic';

export const moduleNotFound = diagnostic(
  {
    code: 'module-not-found',
    severity: 'error',
    title: 'Module not found',
    documentation: `\`use "alloys"\` names a bundled library; \`use "./parts/loops.spring"\` names a file relative to this one. Neither was found, or the file is not one that can be read.

\`\`\`spring
use "aloys"                   // there is no bundled library "aloys"
use "./loop.spring"           // there is no such file beside this one
\`\`\``,
  },
  (span, path: string, bundled: readonly string[], nearest: string | undefined, unreadable?: string) => ({
    message: unreadable
      ? `"${path}" ${unreadable}. What is used is another .spring file.`
      : path.startsWith('.')
        ? `There is no file "${path}" beside this one. The path is relative to this file and ends in .spring.`
        : `There is no bundled library "${path}". Bundled are ${alternatives(bundled)}; a file of your own starts with "./".`,
    fixes: nearest ? replacement(`Use "${nearest}"`, span, `"${nearest}"`) : undefined,
  }),
);
