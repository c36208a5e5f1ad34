import { diagnostic } from './diagnostic';

export const moduleCycle = diagnostic(
  {
    code: 'module-cycle',
    severity: 'error',
    title: 'Files use each other in a circle',
    documentation: `A file brought in with \`use\` brings in, directly or through others, this file again. Nothing from it is known here until the circle is
broken: move what both need into a third file.`,
  },
  (_span, chain: readonly string[]) => ({
    message: `Files use each other in a circle: ${chain.join(' → ')}. Move what both need into a file of its own.`,
  }),
);
