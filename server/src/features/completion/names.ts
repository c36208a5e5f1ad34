/** The names that mean something at a place, read from the tree: they are there also where the file is half-written. */
import type { ApplianceItem, LetItem, Parameter, PartItem, PathItem } from '#grammar/tree';
import type { Definition } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import { slice } from '../source-text';

export interface ScopeName {
  readonly name: string;
  readonly detail: string;
  readonly doc: string | undefined;
}

/** The appliance or part in which the offset lies, also where its end is not written yet. */
export function enclosingItem({ parse }: Snapshot, offset: number): ApplianceItem | PartItem | undefined {
  const before = parse.tree.items.findLast(({ span }) => span.start <= offset);
  return before?.kind === 'appliance' || before?.kind === 'part' ? before : undefined;
}

/** Parameters and named values of the enclosing item and of the file. */
export function valuesInScope(snapshot: Snapshot, offset: number): ScopeName[] {
  const item = enclosingItem(snapshot, offset);
  const own: (Parameter | LetItem)[] =
    item === undefined
      ? []
      : item.kind === 'part'
        ? [...item.parameters, ...lets(item.body)]
        : valuesOf(snapshot, item);
  const imported = [...snapshot.file.scope.values()].filter(({ kind }) => kind === 'let');
  return [
    ...own.flatMap(({ name, doc, span }) =>
      name === undefined ? [] : [{ name: name.text, detail: slice(snapshot.text, span), doc }],
    ),
    ...imported.map(({ name, doc }) => ({ name, detail: 'value', doc })),
  ];
}

export function attachmentsInScope(snapshot: Snapshot, offset: number): ScopeName[] {
  const item = enclosingItem(snapshot, offset);
  return item?.kind === 'appliance' ? attachmentsOf(snapshot, item) : [];
}

function attachmentsOf(snapshot: Snapshot, item: ApplianceItem): ScopeName[] {
  return item.members.flatMap((member) => {
    if (member.kind !== 'attachment') return [];
    const detail = slice(snapshot.text, member.span);
    if (member.name !== undefined) return [{ name: member.name.text, detail, doc: member.doc }];
    const appliance = snapshot.file.appliances.find(({ node, variant }) => node === item && !variant);
    const own = appliance?.attachments.filter(({ node }) => node.span.start === member.span.start) ?? [];
    return own.map(({ name }) => ({ name, detail, doc: member.doc }));
  });
}

/** Attachments of the appliance that an auxiliary wire around the place belongs to. */
export function mainAttachments(snapshot: Snapshot, offset: number): ScopeName[] {
  const item = enclosingItem(snapshot, offset);
  const main = item?.kind === 'appliance' ? mainOf(snapshot, item) : undefined;
  return main ? attachmentsOf(snapshot, main) : [];
}

/** Auxiliary wires of the appliance around, with their attachments. */
export function auxiliariesInScope(
  snapshot: Snapshot,
  offset: number,
): (ScopeName & { readonly attachments: readonly ScopeName[] })[] {
  const item = enclosingItem(snapshot, offset);
  if (item?.kind !== 'appliance' || item.auxiliary || item.name === undefined) return [];
  return snapshot.parse.tree.items.flatMap((one) =>
    one.kind === 'appliance' && one.name !== undefined && one.auxiliary?.base?.text === item.name?.text
      ? [{ name: one.name.text, detail: 'auxiliary wire', doc: one.doc, attachments: attachmentsOf(snapshot, one) }]
      : [],
  );
}

/** Whether the appliance around sits on a quadrant or in a whole arch. */
export function siteAt(snapshot: Snapshot, offset: number): 'quadrant' | 'arch' | undefined {
  const item = enclosingItem(snapshot, offset);
  if (item?.kind !== 'appliance') return undefined;
  return (mainOf(snapshot, item) ?? item).site?.kind ?? 'quadrant';
}

function mainOf({ file }: Snapshot, { auxiliary }: ApplianceItem): ApplianceItem | undefined {
  const node = auxiliary?.base && file.scope.get(auxiliary.base.text)?.node;
  return node?.kind === 'appliance' ? node : undefined;
}

/** Seats of the path that no attachment carries yet. */
export function freeSeats(snapshot: Snapshot, offset: number): ScopeName[] {
  const taken = new Set(attachmentsInScope(snapshot, offset).map(({ name }) => name));
  return pathItems(enclosingItem(snapshot, offset)).flatMap((step) =>
    step.kind === 'seat' && step.attachment !== undefined && !taken.has(step.attachment.text)
      ? [{ name: step.attachment.text, detail: 'seat', doc: undefined }]
      : [],
  );
}

/** Elastics, coil springs and ligatures with a name: results go by it. */
export function loadsInScope(snapshot: Snapshot, offset: number): ScopeName[] {
  const item = enclosingItem(snapshot, offset);
  if (item?.kind !== 'appliance') return [];
  return item.members.flatMap((member) =>
    member.kind === 'load' && member.name !== undefined
      ? [{ name: member.name.text, detail: slice(snapshot.text, member.span), doc: member.doc }]
      : [],
  );
}

/** Groups of teeth: results go by them. */
export function groupsInScope(snapshot: Snapshot, offset: number): ScopeName[] {
  const item = enclosingItem(snapshot, offset);
  if (item?.kind !== 'appliance') return [];
  return item.members.flatMap((member) =>
    member.kind === 'group' && member.name !== undefined
      ? [{ name: member.name.text, detail: slice(snapshot.text, member.span), doc: member.doc }]
      : [],
  );
}

/** Marks of the appliance's own path. */
export function marksInScope(snapshot: Snapshot, offset: number): ScopeName[] {
  return pathItems(enclosingItem(snapshot, offset)).flatMap((step) =>
    step.kind === 'mark' && step.name !== undefined ? [{ name: step.name.text, detail: 'mark', doc: undefined }] : [],
  );
}

/** Placed parts with two feet, by the name under which their read-outs stand. */
export function loopsInScope(snapshot: Snapshot, offset: number): ScopeName[] {
  return pathItems(enclosingItem(snapshot, offset)).flatMap((step) => {
    if (step.kind !== 'call' || step.part === undefined) return [];
    const part = snapshot.file.scope.get(step.part.text)?.node;
    const feet = part?.kind === 'part' ? part.body.filter(({ kind }) => kind === 'foot').length : 0;
    return feet === 2 ? [{ name: (step.label ?? step.part).text, detail: 'loop', doc: undefined }] : [];
  });
}

export function definitionsInScope({ file }: Snapshot, kind: Definition['kind']): Definition[] {
  return [...file.scope.values()].filter((definition) => definition.kind === kind);
}

/** Its own, and those of the appliance that it belongs to. */
function valuesOf(snapshot: Snapshot, item: ApplianceItem): (Parameter | LetItem)[] {
  const main = mainOf(snapshot, item);
  const outer = main?.members.filter((member) => member.kind === 'parameter' || member.kind === 'let') ?? [];
  return [...memberValues(item), ...outer];
}

function memberValues({ members }: ApplianceItem): (Parameter | LetItem)[] {
  return members.flatMap((member) => {
    if (member.kind === 'parameter' || member.kind === 'let') return [member];
    return member.kind === 'path' ? lets(member.body) : [];
  });
}

function lets(body: readonly PathItem[]): LetItem[] {
  return flatten(body).filter((step) => step.kind === 'let');
}

function pathItems(item: ApplianceItem | PartItem | undefined): PathItem[] {
  if (item === undefined) return [];
  if (item.kind === 'part') return flatten(item.body);
  return item.members.flatMap((member) => (member.kind === 'path' ? flatten(member.body) : []));
}

function flatten(body: readonly PathItem[]): PathItem[] {
  return body.flatMap((step) => (step.kind === 'repeat' ? flatten(step.body) : [step]));
}
