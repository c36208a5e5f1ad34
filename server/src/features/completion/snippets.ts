/** What a word that begins an item, a line or a step is completed to: its whole form, with what there is to fill in. */

/** In angle quotes what is to be filled in; where there is nothing between them the cursor comes to rest. */
const forms: Readonly<Record<string, string>> = {
  use: 'use "‹›"',
  let: 'let ‹name› = ‹1 mm›',
  alloy: 'alloy ‹name› {\n\tmodulus = ‹180 GPa› source ‹memory›\n\t‹›\n}',
  section: 'section ‹name› = ‹0.017 in› x ‹0.025 in›',
  slot: 'slot ‹name› = ‹0.022 in› x ‹0.028 in›',
  part: 'part ‹name›(‹height = 7 mm›) {\n\t‹›\n}',
  appliance: 'appliance ‹name› {\n\twire ‹0.017 in x 0.025 in› of ‹steel›\n\n\tpath running ‹mesial› {\n\t\t‹›\n\t}\n}',
  wire: 'wire ‹0.017 in x 0.025 in› of ‹steel›',
  param: 'param ‹name› = ‹5 mm› in ‹4 mm› .. ‹6 mm›',
  path: 'path running ‹mesial› {\n\t‹›\n}',
  tube: 'tube ‹molar› slot ‹0.022 in x 0.028 in›, length ‹4 mm›',
  bracket: 'bracket ‹canine› slot ‹0.022 in x 0.028 in›, width ‹3 mm›',
  hook: 'hook ‹incisor› at ‹25 mm› ‹mesial›',
  eyelet: 'eyelet ‹incisor› at ‹25 mm› ‹mesial›',
  elastic: 'elastic from ‹canine› to ‹molar› force ‹150 gf›',
  coil: 'coil from ‹canine› to ‹molar› rate ‹0.4 N/mm› rest ‹8 mm›',
  ligature: 'ligature from ‹canine› to ‹premolar› force ‹50 gf›',
  group: 'group ‹anchor› of ‹molar›, on teeth ‹15 .. 17›',
  visits: 'visits every ‹6 weeks›, close ‹6 mm› between ‹canine› and ‹molar›, activate ‹2 mm›',
  activation: 'activation pull through ‹molar› ‹0 mm› .. ‹3 mm› step ‹0.5 mm›',
  trial: 'trial activation ‹3 mm›',
  require: 'require at activation ‹1 mm› {\n\t‹›\n}',
  prefer: 'prefer at activation ‹1 mm› {\n\t‹›\n}',
  straight: 'straight ‹5 mm›',
  bend: 'bend ‹90 deg› toward ‹gingival›',
  preactivate: 'preactivate ‹15 deg› toward ‹gingival›',
  twist: 'twist ‹5 deg› over ‹2 mm›',
  helix: 'helix ‹2› turns diameter ‹3 mm› toward ‹gingival›',
  mark: 'mark ‹name›',
  repeat: 'repeat ‹2› {\n\t‹›\n}',
};

/** Words that have another form where they begin a step of a path. */
const stepForms: Readonly<Record<string, string>> = { section: 'section ‹0.016 in x 0.022 in›' };

/** In the snippet syntax of the Language Server Protocol. Tabs become the editor's own indentation. */
export function wordSnippet(word: string, begins: 'line' | 'step'): string | undefined {
  const form = (begins === 'step' ? stepForms[word] : undefined) ?? forms[word];
  let place = 0;
  return form?.replace(/‹([^›]*)›/g, (_, text) => (text === '' ? '$0' : `\${${++place}:${text}}`));
}
