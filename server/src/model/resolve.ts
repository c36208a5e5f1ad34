/** From a parsed file to a resolved one: names bound, dimensions checked, parts expanded, numbers evaluated. */

import type { ApplianceItem, Item, Name, SourceFile, UseItem, VariantItem } from '#grammar/tree';
import { library } from '#library';
import { withAuxiliaries } from './appliance/auxiliary';
import { resolveAppliance } from './appliance/resolve-appliance';
import { lazyNamed } from './appliance/values';
import { resolveVariant } from './appliance/variant';
import { duplicateMember } from './diagnostics/duplicate-member';
import { duplicateName } from './diagnostics/duplicate-name';
import { emptyFile } from './diagnostics/empty-file';
import { limitExceeded } from './diagnostics/limit-exceeded';
import { moduleCycle } from './diagnostics/module-cycle';
import { moduleNotFound } from './diagnostics/module-not-found';
import { nameClash } from './diagnostics/name-clash';
import { fileMember } from './expression/member';
import type { Place } from './expression/place';
import { collectFindings, type Reported } from './findings';
import { newDefinition } from './names/definition';
import { nearest } from './names/nearest';
import { innerScope, type Named, type Recorder, SILENT } from './names/scope';
import { checkPart, partDefinition } from './parts';
import { FILE_LIMITS } from './path/layout';
import type { Definition, Home, ResolvedAppliance, ResolvedFile, ResolvedMain } from './resolved';
import { unusedNames } from './unused';
import { resolveAlloy, resolveSection, resolveSlot } from './wire';

/** What a `use` line brings in. */
export type ImportResult =
  | { readonly kind: 'module'; readonly file: ResolvedFile }
  /** `unreadable` says what keeps a file that is there from being read. */
  | { readonly kind: 'missing'; readonly unreadable?: string }
  /** The files from this one back to itself, by uri. */
  | { readonly kind: 'cycle'; readonly path: readonly string[] };

/**
 * `earlier` is what the file was before an edit, where it used the same modules: appliances that the edit leaves as they
 * are, with all that they can refer to, are taken over from it.
 */
export function resolveFile(
  uri: string,
  tree: SourceFile,
  text: string,
  imports: (path: string) => ImportResult,
  earlier?: ResolvedFile,
): ResolvedFile {
  const findings = collectFindings(uri);
  const { recorder } = findings;
  const place: Place = { scope: innerScope(undefined), recorder, text, member: fileMember };
  const home: Home = { uri, text, scope: place.scope, place: { ...place, recorder: SILENT } };

  const own = defineItems(tree.items, home, place);
  for (const use of tree.items) if (use.kind === 'use') importModule(use, tree, home, imports, recorder);
  for (const named of own.values()) named.value();
  for (const item of tree.items) checkItem(item, place);
  checkParts(own, recorder);
  const solvable = withinFile(tree.items, recorder);
  const known = earlier ? unchangedMains(earlier, tree) : undefined;
  const resolvedMains = new Map<ApplianceItem, ResolvedMain>();
  for (const item of solvable) {
    if (!isMain(item)) continue;
    const main = known?.get(item) ?? resolveMain(item, home, findings.reported);
    findings.add(main.findings);
    resolvedMains.set(item, main);
  }
  const mains = [...resolvedMains.values()].map(({ appliance }) => appliance);
  const variants = solvable.flatMap((item) =>
    item.kind === 'variant' ? (resolveVariant(item, mains, home, place, findings.reported) ?? []) : [],
  );
  const further = solvable.filter((item) => item.kind === 'appliance' && item.auxiliary !== undefined);
  const appliances = withAuxiliaries(
    further as ApplianceItem[],
    [...mains, ...variants],
    home,
    place,
    findings.reported,
  );
  if (isBlank(text)) recorder.problem(emptyFile.at({ start: 0, end: 0 }));
  for (const problem of unusedNames(tree, findings.references)) recorder.problem(problem);

  const definitions = (scope: ReadonlyMap<string, Named>) =>
    new Map([...scope].map(([name, { definition }]) => [name, definition] as const));
  const exported = [...definitions(own)].filter(([, { kind }]) => !NOT_EXPORTED.has(kind));
  return {
    uri,
    tree,
    appliances: withinSolving(inFileOrder(appliances), recorder),
    exports: new Map(exported),
    scope: definitions(home.scope.own),
    references: findings.references,
    evaluated: findings.evaluated,
    problems: findings.problems,
    mains: resolvedMains,
  };
}

function isMain(item: Item): item is ApplianceItem {
  return item.kind === 'appliance' && item.auxiliary === undefined;
}

function resolveMain(item: ApplianceItem, home: Home, reported: Reported): ResolvedMain {
  const own = collectFindings(home.uri, reported);
  const appliance = resolveAppliance(item, home, own.recorder, own.reported);
  return { appliance, findings: { problems: own.problems, references: own.references, evaluated: own.evaluated } };
}

/** Appliances of the earlier file; none where something that others can refer to has changed, or stands elsewhere. */
function unchangedMains({ tree, mains }: ResolvedFile, present: SourceFile): ReadonlyMap<ApplianceItem, ResolvedMain> {
  // Of appliances and variants others know no more than the name.
  const known = (item: Item) => (isMain(item) || item.kind === 'variant' ? `${item.kind} ${item.name?.text}` : item);
  const same =
    tree.items.length === present.items.length &&
    tree.items.every((item, index) => known(item) === known(present.items[index]));
  // One that takes another's name for something else refers to that other all the same.
  const isSound = ({ findings }: ResolvedMain) => findings.problems.every(({ severity }) => severity !== 'error');
  return new Map(same ? [...mains].filter(([, main]) => isSound(main)) : []);
}

const NOT_EXPORTED: ReadonlySet<Definition['kind']> = new Set(['appliance', 'variant', 'auxiliary']);

function inFileOrder(appliances: readonly ResolvedAppliance[]): ResolvedAppliance[] {
  const start = ({ node, variant }: ResolvedAppliance) => (variant ?? node).span.start;
  return [...appliances].sort((a, b) => start(a) - start(b));
}

/** The appliances and variants of the file, those beyond the limit reported and left out. */
function withinFile(items: readonly Item[], recorder: Recorder): readonly (ApplianceItem | VariantItem)[] {
  const all = items.filter((item) => item.kind === 'appliance' || item.kind === 'variant');
  const limit = FILE_LIMITS.appliances;
  const first = all[limit];
  if (first) {
    recorder.problem(limitExceeded.at(first.name?.span ?? first.span, 'Appliances of a file', all.length, limit));
  }
  return all.slice(0, limit);
}

/** Looks at each part by itself, as long as they all together are no more than a file may ask for. */
function checkParts(own: ReadonlyMap<string, Named>, recorder: Recorder): void {
  let steps = 0;
  for (const { definition } of own.values()) {
    if (definition.kind !== 'part') continue;
    steps += checkPart(definition, recorder);
    if (steps <= FILE_LIMITS.partSteps) continue;
    recorder.problem(limitExceeded.at(definition.span, 'Steps of all parts', steps, FILE_LIMITS.partSteps));
    return;
  }
}

/** Appliances in the order of the file; those that would cost more than a file may ask for lose their design. */
function withinSolving(appliances: readonly ResolvedAppliance[], recorder: Recorder): ResolvedAppliance[] {
  let asked = 0;
  return appliances.map((appliance) => {
    const { design } = appliance;
    if (!design) return appliance;
    asked += solvingOf(appliance);
    if (asked <= FILE_LIMITS.solving) return appliance;
    const span = (appliance.variant ?? appliance.node).name?.span ?? { start: 0, end: 0 };
    recorder.problem(
      limitExceeded.at(span, 'Pieces of wire times activation stages of the file', asked, FILE_LIMITS.solving),
    );
    return { ...appliance, design: undefined };
  });
}

/** Pieces of all its wires × stages. */
function solvingOf({ design, auxiliaries }: ResolvedAppliance): number {
  const pieces = [design, ...auxiliaries.map((one) => one.design)].map((one) => one?.elements.length ?? 0);
  return pieces.reduce((sum, one) => sum + one, 0) * (design?.activation?.stages.length ?? 1);
}

/** Nothing but white space and comments. */
function isBlank(text: string): boolean {
  return text.replace(/\/\/.*/g, '').trim() === '';
}

/** Defines what the file itself names, in written order. */
function defineItems(items: readonly Item[], home: Home, place: Place): Map<string, Named> {
  const own = new Map<string, Named>();
  for (const item of items) {
    const named = namedItem(item, home, place);
    if (!named) continue;
    const { definition } = named;
    place.recorder.reference(definition.span, definition);
    const first = own.get(definition.name);
    if (first) {
      place.recorder.problem(duplicateName.at(definition.span, definition.name, first.definition));
      continue;
    }
    own.set(definition.name, named);
    home.scope.own.set(definition.name, named);
  }
  return own;
}

function namedItem(item: Item, home: Home, place: Place): Named | undefined {
  if (item.kind === 'use') return undefined;
  if (item.kind === 'let') return lazyNamed(item, home, () => place);
  const definition = item.kind === 'part' ? partDefinition(item, home) : plainDefinition(item, item.name, home);
  return definition && { definition, value: () => undefined };
}

function plainDefinition(item: Exclude<Item, UseItem>, name: Name | undefined, home: Home): Definition | undefined {
  const kind = item.kind === 'appliance' && item.auxiliary ? 'auxiliary' : item.kind;
  return name && newDefinition(kind, name, item, home);
}

function importModule(
  use: UseItem,
  tree: SourceFile,
  home: Home,
  imports: (path: string) => ImportResult,
  recorder: Recorder,
): void {
  const { path } = use;
  if (!path) return;
  const first = tree.items.find((item): item is UseItem => item.kind === 'use' && item.path?.value === path.value);
  if (first && first !== use) {
    recorder.problem(duplicateMember.at(use.span, `use of "${path.value}"`, { uri: home.uri, span: first.span }));
    return;
  }
  const result = imports(path.value);
  if (result.kind === 'missing') {
    const bundled = [...library.keys()];
    recorder.problem(
      moduleNotFound.at(path.span, path.value, bundled, nearest(path.value, bundled), result.unreadable),
    );
    return;
  }
  if (result.kind === 'cycle') {
    recorder.problem(moduleCycle.at(path.span, result.path.map(fileName)));
    return;
  }
  for (const [name, definition] of result.file.exports) {
    const other = home.scope.own.get(name);
    const named = definition.home.scope.own.get(name);
    if (other) recorder.problem(nameClash.at(path.span, name, path.value, other.definition));
    else if (named) home.scope.own.set(name, named);
  }
}

function fileName(uri: string): string {
  return uri.slice(uri.lastIndexOf('/') + 1);
}

/** Checks what an item says by itself. */
function checkItem(item: Item, place: Place): void {
  if (item.kind === 'alloy') resolveAlloy(item, place);
  if (item.kind === 'section') resolveSection(item.size, place);
  if (item.kind === 'slot') resolveSlot(item.size, place);
}
