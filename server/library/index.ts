/** The bundled library: files in the language itself, by the name that `use` gives. */
import alloys from './alloys.spring';
import loops from './loops.spring';
import slots from './slots.spring';
import springs from './springs.spring';
import teeth from './teeth.spring';
import wireSizes from './wire_sizes.spring';

export const library: ReadonlyMap<string, string> = new Map([
  ['alloys', alloys],
  ['wire_sizes', wireSizes],
  ['slots', slots],
  ['loops', loops],
  ['springs', springs],
  ['teeth', teeth],
]);
