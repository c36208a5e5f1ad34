/** Groups of teeth: what belongs to them, and where their centres of resistance lie. */
import type { Attachment, ToothGroup } from '#core/design';
import { add, addScaled, apply, type Vec3 } from '#core/math/vector';
import { LENGTH } from '#core/units/dimension';
import type { GroupClause, GroupMember } from '#grammar/tree';
import { duplicateMember } from '../diagnostics/duplicate-member';
import { groupMember } from '../diagnostics/group-member';
import { resistanceUnknown } from '../diagnostics/resistance-unknown';
import { evaluateNumber } from '../expression/expectation';
import { newDefinition } from '../names/definition';
import { findOfKind } from '../names/lookup';
import { directionVector } from '../path/directions';
import type { ResolvedGroup } from '../resolved';
import { neighbour, type Tooth } from '../teeth';
import { resistanceOffset, rootLength, rootSurface, towardMesial } from '../tooth-data';
import { positiveLength } from '../wire';
import { type ApplianceContext, membersOf } from './context';
import { directionsAt } from './directions-at';
import { type Sites, teethOf } from './teeth';

/** The names of groups, for results over them. */
export function defineGroups(context: ApplianceContext): void {
  for (const node of membersOf(context.node, 'group')) {
    if (node.name) context.define(newDefinition('group', node.name, node, context.home));
  }
}

export interface Groups {
  readonly described: readonly ResolvedGroup[];
  /** The same, for the design. */
  readonly placed: readonly ToothGroup[];
}

/** Those that can be made out, in written order. `teeth` are those of attachments, by their names. */
export function resolveGroups(
  context: ApplianceContext,
  placed: readonly Attachment[],
  teeth: ReadonlyMap<string, Tooth>,
  sites: Sites,
): Groups {
  const taken = new Map<number, string>();
  const all = membersOf(context.node, 'group').flatMap((node) => {
    const read = readGroup(node, { context, placed, teeth, sites, taken });
    return read ? [read] : [];
  });
  return { described: all.map(({ described }) => described), placed: all.map(({ group }) => group) };
}

interface Around {
  readonly context: ApplianceContext;
  readonly placed: readonly Attachment[];
  readonly teeth: ReadonlyMap<string, Tooth>;
  readonly sites: Sites;
  /** Attachments of groups before, by index, and which group has each. */
  readonly taken: Map<number, string>;
}

function readGroup(
  node: GroupMember,
  around: Around,
): { readonly described: ResolvedGroup; readonly group: ToothGroup } | undefined {
  const { context, placed, sites } = around;
  const { recorder, shape, scope, home } = context;
  const clause = <K extends GroupClause['kind']>(kind: K) => {
    const [first, second] = node.clauses.filter((one) => one.kind === kind);
    const word = kind === 'sides' ? 'both sides' : kind;
    if (second) recorder.problem(duplicateMember.at(second.span, `"${word}"`, { uri: home.uri, span: first.span }));
    return first as Extract<GroupClause, { kind: K }> | undefined;
  };
  const [of, on, given, root, sides] = [
    clause('of'),
    clause('on'),
    clause('resistance'),
    clause('root'),
    clause('sides'),
  ];
  const own = on?.teeth.flatMap((range) => teethOf(range, sites, recorder).map(({ tooth }) => tooth));
  const attachments = membersOfGroup(node, of, own, around);
  const length = root && positiveLength(root.value, 'The length of a root', shape);
  const place = given && resistanceGiven(given, around);
  if (!node.name || attachments.length === 0) return undefined;
  const ofAttachments = attachments.flatMap((k) => around.teeth.get(placed[k].name) ?? []);
  const teeth = own ?? ofAttachments;
  const resistance = place ?? (given ? undefined : estimated(attachments, teeth, around));
  if (!resistance) {
    if (!given) recorder.problem(resistanceUnknown.at(node.name.span, node.name.text, placed[attachments[0]].name));
    return undefined;
  }
  const areas = teeth.map((tooth) => rootSurface(tooth, scope));
  const rootArea = areas.every((area) => area !== undefined) ? sum(areas) : 0;
  const usualLength = length ?? meanLength(teeth, around);
  return {
    described: { name: node.name.text, node, teeth, resistance: given ? 'given' : 'estimated' },
    group: {
      name: node.name.text,
      attachments,
      resistance,
      axes: placed[attachments[0]].axes,
      ...(usualLength !== undefined && { rootLength: usualLength }),
      ...(rootArea > 0 && { rootArea }),
      rowSpread: rowSpread(teeth, around),
      bothSides: sides !== undefined,
    },
  };
}

/** Indices of its attachments in order along the wire: those named, or those on its teeth. */
function membersOfGroup(
  node: GroupMember,
  of: Extract<GroupClause, { kind: 'of' }> | undefined,
  own: readonly Tooth[] | undefined,
  { context, placed, teeth, taken }: Around,
): number[] {
  const { recorder, shape } = context;
  const numbers = new Set(own?.map(({ number }) => number));
  const named = of
    ? of.attachments.flatMap((name) => {
        const definition = name && findOfKind('attachment', name, shape);
        const index = definition ? placed.findIndex((one) => one.name === definition.name) : -1;
        return name && index >= 0 ? [{ index, span: name.span }] : [];
      })
    : placed.flatMap(({ name }, index) =>
        node.name && numbers.has(teeth.get(name)?.number ?? 0) ? [{ index, span: node.name.span }] : [],
      );
  const complete = of?.attachments.every((name) => name !== undefined) ?? true;
  if (named.length === 0 && node.name && complete && !of)
    recorder.problem(groupMember.at(node.name.span, node.name.text, 'none', placed[0]?.name));
  return named
    .filter(({ index, span }) => {
      const other = taken.get(index);
      if (other === undefined) taken.set(index, node.name?.text ?? '');
      else recorder.problem(groupMember.at(span, placed[index].name, 'taken', other));
      return other === undefined;
    })
    .map(({ index }) => index)
    .sort((a, b) => a - b);
}

function resistanceGiven(
  { offsets, from }: Extract<GroupClause, { kind: 'resistance' }>,
  { context, placed }: Around,
): Vec3 | undefined {
  const { recorder, shape, site } = context;
  const definition = from && findOfKind('attachment', from, shape);
  const attachment = definition && placed.find(({ name }) => name === definition.name);
  let place: Vec3 | undefined = attachment?.seatedWire.position;
  for (const { value, direction } of offsets) {
    const distance = evaluateNumber(value, LENGTH, 'A distance', shape);
    const way = directionVector(direction, directionsAt(attachment, direction?.text ?? '', site), recorder);
    place = place && distance !== undefined && way ? addScaled(place, way, distance) : undefined;
  }
  return place;
}

/**
 * The mean of its teeth's own centres, by the surfaces of their roots. A tooth stands where its attachment does or, on one
 * side of an arch, as far from one that has an attachment as the crowns between them are wide.
 */
function estimated(attachments: readonly number[], own: readonly Tooth[], around: Around): Vec3 | undefined {
  const { context, placed, teeth } = around;
  const { scope, site } = context;
  const known = attachments.flatMap((k) => {
    const tooth = teeth.get(placed[k].name) ?? (own.length === 1 && attachments.length === 1 ? own[0] : undefined);
    return tooth ? [{ tooth, attachment: placed[k] }] : [];
  });
  const centres = own.flatMap((tooth) => {
    const [nearest] = [...known].sort(
      (a, b) => Math.abs(a.tooth.position - tooth.position) - Math.abs(b.tooth.position - tooth.position),
    );
    const offset = resistanceOffset(tooth, scope);
    const surface = rootSurface(tooth, scope);
    const along =
      nearest?.tooth.number === tooth.number
        ? 0
        : nearest && site.kind === 'quadrant'
          ? towardMesial(nearest.tooth, tooth, scope)
          : undefined;
    if (!offset || surface === undefined || along === undefined) return [];
    const { seatedWire, axes } = nearest.attachment;
    return [{ place: add(seatedWire.position, apply(axes, add(offset, [along, 0, 0]))), surface }];
  });
  if (centres.length === 0 || (site.kind === 'quadrant' && centres.length < own.length)) return undefined;
  const total = sum(centres.map(({ surface }) => surface));
  return centres.reduce<Vec3>((mean, { place, surface }) => addScaled(mean, place, surface / total), [0, 0, 0]);
}

/** Of the teeth from the canine back, which stand in a row; front teeth stand abreast. mm² */
function rowSpread(teeth: readonly Tooth[], { context: { scope } }: Around): number {
  const [first] = teeth;
  if (!first) return 0;
  const places = teeth.map((tooth) => ({
    along: towardMesial(
      neighbour(first, Math.max(first.position, 3)),
      neighbour(tooth, Math.max(tooth.position, 3)),
      scope,
    ),
    surface: rootSurface(tooth, scope),
  }));
  if (places.some(({ along, surface }) => along === undefined || surface === undefined)) return 0;
  const total = sum(places.map(({ surface }) => surface ?? 0));
  const mean = (power: number) =>
    sum(places.map(({ along, surface }) => ((surface ?? 0) * (along ?? 0) ** power) / total));
  return mean(2) - mean(1) ** 2;
}

/** By the surfaces of the roots, mm. */
function meanLength(teeth: readonly Tooth[], { context: { scope } }: Around): number | undefined {
  const roots = teeth.map((tooth) => ({ length: rootLength(tooth, scope), surface: rootSurface(tooth, scope) }));
  const total = sum(roots.map(({ surface }) => surface ?? 0));
  if (!(total > 0) || roots.some(({ length, surface }) => length === undefined || surface === undefined))
    return undefined;
  return sum(roots.map(({ length, surface }) => ((length ?? 0) * (surface ?? 0)) / total));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
