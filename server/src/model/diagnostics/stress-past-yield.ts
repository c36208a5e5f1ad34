import { diagnostic } from './diagnostic';

export const stressPastYield = diagnostic(
  {
    code: 'stress-past-yield',
    severity: 'warning',
    title: 'Stress past yield',
    documentation: `The computed stress is that of an elastic wire. Past yield a real wire takes a permanent set, its forces stay below the computed ones and its
neutral position moves. Many everyday closing loops do yield when strong gables are straightened, which is why they are trial activated and
checked again.

\`\`\`spring
prefer at activation 1.5 mm { wire.elastic_use <= 1 }
\`\`\``,
  },
  (_span, use: string, activation: string, firstYield: string | undefined) => ({
    message: `The largest stress reaches ${use} of the yield strength at ${activation}${firstYield ? `; the wire yields from ${firstYield} on` : ''}. Past yield it takes a set, and forces are lower than computed.`,
    hint: 'The stress is computed as if the wire stayed elastic (nominal). Lower the gables or the activation, or enlarge the loop.',
  }),
);
