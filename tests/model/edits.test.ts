/** After an edit, what a file takes over from the text before is what the whole text is resolved to when it is opened afresh. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import type { ParsedText } from '#grammar/reparse';
import { library } from '#library';
import { type ImportResult, resolveFile } from '#model/resolve';
import type { Definition, ResolvedAppliance, ResolvedFile } from '#model/resolved';

const EDITS = 600;
const uri = 'file:///edits.spring';

const appliance = (name: string, angle: string, extra = 'molar.force.total <= 9 N') => `
/// ${name}.
appliance ${name} {
  wire 0.016 in x 0.022 in of beta_titanium
  param side = reach in 1 mm .. 9 mm
  let leg = side + 4 mm
  path running mesial {
    straight 9 mm
    seat molar
    arm(length = leg)
    preactivate ${angle} deg toward gingival
    straight leg
    mark here
    seat canine
    straight 3 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  activation pull through molar 0 mm .. 3 mm step 1 mm
  require at activation 1 mm {
    canine.force.distal in 10 gf .. 90 gf
    ${extra}
  }
}
`;
const text = `use "alloys"
let reach = 5 mm

/// Straight.
part arm(length = 6 mm in 1 mm .. 20 mm, unused = 2 mm) {
  straight length
}
${appliance('first', '10', 'further.molar_2.force.gingival <= 9 N')}${appliance('second', '20')}
variant short of second { side = 4 mm }
auxiliary further of first at molar 3 mm gingival {
  wire 0.016 in x 0.016 in of beta_titanium
  path running mesial {
    straight leg
    seat molar_2
    straight 15 mm
    seat canine_2
  }
  tube molar_2 length 4 mm
  bracket canine_2 width 3 mm
}
${appliance('third', '30')}`;

const words =
  'first second third arm reach leg side molar canine short of part let deg mm 10 9 4 { } ( = + // ///'.split(' ');
const edit = fc.record({
  place: fc.double({ min: 0, max: 1, noNaN: true }),
  insert: fc.oneof(fc.constantFrom(...words), fc.string({ maxLength: 3 }), fc.constantFrom('\n', ' ', '  ')),
  /** Most of what is typed over keeps the length of the text, so that what stands behind keeps its place. */
  over: fc.constantFrom('word', 'number', 'same', 'nothing'),
  undone: fc.constantFrom(true, true, true, false),
});

it(`resolves ${EDITS} edits as if each text were new`, { timeout: 240_000 }, () => {
  const done = { edits: 0, kept: 0, broken: 0 };
  const change = (before: Resolved, edited: string): Resolved => {
    const after = changed(before, edited);
    done.edits += 1;
    if (after.file.problems.some(({ severity }) => severity === 'error')) done.broken += 1;
    for (const [node, main] of after.file.mains) if (before.file.mains.get(node) === main) done.kept += 1;
    return after;
  };
  fc.assert(
    fc.property(fc.array(edit, { minLength: 10, maxLength: 10 }), (edits) => {
      let now = opened(text);
      for (const { place, insert, over, undone } of edits) {
        const before = now.text;
        const edited = change(now, typed(before, place, insert, over));
        now = undone ? change(edited, before) : edited;
      }
    }),
    { seed: 20_261_129, numRuns: EDITS / 10 },
  );
  expect(done.edits).toBeGreaterThan(EDITS);
  expect(done.kept).toBeGreaterThan(done.edits / 10);
  expect(done.broken).toBeGreaterThan(done.edits / 4);
});

it('knows an appliance as it now is where its name is taken for something else', () => {
  const given = text.replace('appliance first {', 'appliance  first {');
  const before = opened(given.replace(/(appliance third.*?of )beta_titanium/s, '$1first'));
  expect(before.file.problems.map(({ code }) => code)).toContain('wrong-kind-of-name');
  changed(before, before.text.replace('appliance  first {', 'appliance first  {'));
});

interface Resolved extends ParsedText {
  readonly file: ResolvedFile;
}

function opened(given: string): Resolved {
  const result = parse(given);
  return { text: given, parse: result, file: resolveFile(uri, result.tree, given, imports) };
}

/** Held against the edited text opened afresh. */
function changed(before: Resolved, edited: string): Resolved {
  const result = parse(edited, before);
  const file = resolveFile(uri, result.tree, edited, imports, before.file);
  const [taken, afresh] = [file, opened(edited).file].map((one) => JSON.stringify(shown(one), withMaps));
  if (taken !== afresh) expect(JSON.parse(taken), JSON.stringify([before.text, edited])).toEqual(JSON.parse(afresh));
  return { text: edited, parse: result, file };
}

function typed(before: string, place: number, insert: string, over: string): string {
  const from = Math.floor(place * before.length);
  if (over === 'nothing') return before.slice(0, from) + insert + before.slice(from);
  if (over === 'same') return before.slice(0, from) + insert + before.slice(from + insert.length);
  const [found] = [...before.slice(from).matchAll(over === 'number' ? /\d+/g : /[a-z_]+/g)];
  if (!found) return before;
  const at = from + found.index;
  const [old] = found;
  const other = over === 'number' ? String(10 ** (old.length - 1) + at) : insert;
  return before.slice(0, at) + other.slice(0, old.length).padEnd(old.length) + before.slice(at + old.length);
}

function imports(path: string): ImportResult {
  const bundled = library.get(path);
  if (bundled === undefined) return { kind: 'missing' };
  known.set(
    path,
    known.get(path) ?? resolveFile(`springwright-library:/${path}.spring`, parse(bundled).tree, bundled, imports),
  );
  return { kind: 'module', file: known.get(path) as ResolvedFile };
}
const known = new Map<string, ResolvedFile>();

function shown({ problems, references, evaluated, appliances, exports, scope }: ResolvedFile) {
  return {
    problems,
    evaluated,
    references: references.map(({ span, definition }) => ({ span, definition: definitionOf(definition) })),
    appliances: appliances.map(applianceOf),
    exports: [...exports.values()].map(definitionOf),
    scope: [...scope.values()].map(definitionOf),
  };
}

function definitionOf({ home, parameters, node, ...rest }: Definition): unknown {
  const written = home.text.slice(node.span.start, node.span.end);
  return { ...rest, span: node.span, written, parameters: parameters.map(definitionOf) };
}

function applianceOf({ scope, attachments, alloy, main, auxiliaries, node, ...rest }: ResolvedAppliance): unknown {
  const inReach: unknown[] = [];
  for (let at: typeof scope | undefined = scope; at; at = at.parent)
    for (const { definition } of at.own.values()) if (isOfShape(definition)) inReach.push(definitionOf(definition));
  return {
    ...rest,
    inReach,
    node: node.span,
    attachments: attachments.map(definitionOf),
    alloy: alloy && definitionOf(alloy),
    main: main?.name,
    auxiliaries: auxiliaries.map(applianceOf),
  };
}

/** Of other appliances and variants, only the names count. */
function isOfShape({ kind }: Definition): boolean {
  return kind !== 'appliance' && kind !== 'variant';
}

function withMaps(_: string, value: unknown): unknown {
  return value instanceof Map ? [...value] : value;
}
