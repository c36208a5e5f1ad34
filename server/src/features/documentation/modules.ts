/** The bundled modules that `use` can bring in. */
export const bundledModules: readonly { readonly name: string; readonly meaning: string }[] = [
  {
    name: 'alloys',
    meaning: 'Alloys with modulus, yield strength and smallest usual bend radius, each with its source.',
  },
  { name: 'wire_sizes', meaning: 'Usual wire sections by name.' },
  { name: 'slots', meaning: 'Usual slot sizes by name.' },
  { name: 'loops', meaning: 'Open and closed loops as parts.' },
  {
    name: 'springs',
    meaning: 'Cantilevers, uprighting, palatal and finger springs, a retainer wire, gable, V and step bends, as parts.',
  },
  {
    name: 'teeth',
    meaning: 'Widths and roots of the teeth, centres of resistance and arch sizes, each with its source.',
  },
];
