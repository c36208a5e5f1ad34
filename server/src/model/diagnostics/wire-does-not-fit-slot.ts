import { diagnostic } from './diagnostic';

export const wireDoesNotFitSlot = diagnostic(
  {
    code: 'wire-does-not-fit-slot',
    severity: 'error',
    judgement: true,
    title: 'Wire does not fit the slot',
    documentation: `The wire's height must not exceed the slot's height, nor its width the slot's depth. A rectangular wire stands edgewise in the slot unless
the wire line says \`ribbonwise\`.

\`\`\`spring
wire 0.021 in x 0.025 in of steel
tube molar slot 0.018 in x 0.025 in      // take 0.022 in x 0.028 in, or a wire of 0.017 in
\`\`\``,
  },
  (_span, wire: string, slot: string, size: 'high' | 'deep') => ({
    message: `The wire is ${wire} ${size === 'high' ? 'high' : 'wide'}, but the slot is only ${slot} ${size}.`,
    hint: 'Take a smaller wire or a larger slot; 0.018 in x 0.025 in and 0.022 in x 0.028 in are in wide use.',
  }),
);
