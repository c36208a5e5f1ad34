import { diagnostic, replacement } from './diagnostic';

export const archForm = diagnostic(
  {
    code: 'arch-form',
    severity: 'error',
    title: 'Arch form',
    documentation: `\`follow\` lays the wire along an arch form, \`beta_arch\` or \`catenary_arch\`, of a whole-arch appliance. Width and depth are those of the
form's ends (usually the second molars); places along it are lengths from the midline with the patient's side, or teeth, whose places follow from the
widths of the teeth between (\`use "teeth"\`).

\`\`\`spring
follow beta_arch(width = 55 mm, depth = 40 mm) from 47 mm right to 47 mm left { seat teeth }
\`\`\``,
  },
  (span, message: string, nearest?: string) => ({
    message,
    fixes: nearest ? replacement(`Write ${nearest}`, span, nearest) : undefined,
  }),
);
