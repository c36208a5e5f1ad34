/** Resolves one appliance: its wire, values, path, attachments, activation and requirements. */
import type { Activation, ApplianceDesign, Attachment, Load, ToothGroup } from '#core/design';
import { subtract } from '#core/math/vector';
import type { Quantity } from '#core/units/quantity';
import type { ApplianceItem, VariantItem } from '#grammar/tree';
import { duplicateName } from '../diagnostics/duplicate-name';
import { missingPath } from '../diagnostics/missing-path';
import { missingWire } from '../diagnostics/missing-wire';
import { memberLookup } from '../expression/member';
import type { Place } from '../expression/place';
import { knownQuantity } from '../expression/value';
import { newDefinition } from '../names/definition';
import { findOfKind } from '../names/lookup';
import { innerScope, lazily, type Recorder, type Scope, SILENT } from '../names/scope';
import type { Layout, Seat } from '../path/layout';
import type { GivenArgument } from '../path/part-scope';
import type { Problem } from '../problem';
import type { Definition, Home, ResolvedAppliance } from '../resolved';
import type { Site } from '../site';
import { stockAt } from '../stock';
import { alloyOf, resolveSection, type Wire } from '../wire';
import { resolveActivation, resolveGauge, resolveTrial } from './activation';
import { checkFit, readAttachment } from './attachments';
import { type ApplianceContext, isClosed, membersOf, onlyMember } from './context';
import { directionsAt } from './directions-at';
import { defineGroups, resolveGroups } from './groups';
import { isCinchedAtEnds } from './lengthwise';
import { defineLoads, resolveLoads } from './loads';
import { layOut, runsDistally } from './path';
import { resolveRequirement } from './requirements';
import { checkLine, originOf, reportUnseated, seatedAttachments, seatsByName } from './seats';
import { resolveSite } from './site';
import { type AttachmentOnTooth, attachmentsOnTeeth } from './teeth';
import { lazyNamed, resolveParameters } from './values';
import { resolveVisits } from './visits';

/** Values that a variant gives to some of the parameters. */
export interface Variation {
  readonly item: VariantItem;
  readonly given: ReadonlyMap<string, GivenArgument>;
}

export function resolveAppliance(
  node: ApplianceItem,
  home: Home,
  recorder: Recorder,
  reported: (uri: string, problem: Problem) => boolean,
  { variant, main }: { readonly variant?: Variation; readonly main?: ResolvedAppliance } = {},
): ResolvedAppliance {
  const written = main?.site ?? resolveSite(node.site, recorder);
  const site = variant?.item.site ? resolveSite(variant.item.site, recorder) : written;
  const context = createContext(node, site, home, recorder, reported, main?.scope ?? home.scope);
  const { scope, shape } = context;
  const given = variant?.given ?? new Map<string, GivenArgument>();
  for (const value of [...membersOf(node, 'parameter'), ...membersOf(node, 'let')]) {
    const named = lazyNamed(value, home, () => context.results, given);
    if (!named) continue;
    define(context, named.definition);
    if (scope.own.get(named.definition.name)?.definition === named.definition)
      scope.own.set(named.definition.name, named);
  }
  const sites = { site, written, stated: node.site !== undefined };
  const onTeeth = attachmentsOnTeeth(membersOf(node, 'attachment'), sites, recorder);
  const attachments = defineAttachments(onTeeth, context);
  defineLoads(context);
  defineGroups(context);
  const parameters = resolveParameters(membersOf(node, 'parameter'), given, context.results);
  for (const named of [...scope.own.values()]) named.value();
  const wire = context.wire();

  const fitted = onTeeth.flatMap((one) => readAttachment(one, site, home.uri, shape) ?? []);
  const path = onlyMember(context, 'path', 'path');
  if (!path && node.name && isClosed(node.span, home.text))
    recorder.problem(missingPath.at(node.name.span, node.name.text));
  const layout = path && layOut(path, attachments, new Map(fitted.map((one) => [one.name, one])), context);
  const seats = layout ? seatsByName(layout, context) : new Map<string, Seat>();
  if (wire) {
    const made = { ...wire, elements: layout?.elements ?? [] };
    for (const one of fitted) checkFit(one, stockAt(made, seats.get(one.name)?.station ?? 0), shape);
  }
  if (path && layout && !layout.stopped && isClosed(path.span, home.text)) reportUnseated(fitted, seats, context);
  // Round an arch every seat has a line of its own.
  if (path && layout?.complete && site.kind === 'quadrant')
    checkLine(path, fitted, seats, attachments, layout, context);

  const placed = layout ? seatedAttachments(fitted, seats, originOf(layout), runsDistally(path), context) : [];
  const cinchable = isCinchedAtEnds(fitted, placed, context);
  const loads = resolveLoads(context, placed, layout);
  const teeth = new Map(
    onTeeth.flatMap(({ node: { name }, tooth }) => (name && tooth ? [[name.text, tooth] as const] : [])),
  );
  const groups = resolveGroups(context, placed, teeth, sites);
  const activationNode = onlyMember(context, 'activation', 'activation');
  const activation =
    activationNode &&
    resolveActivation(activationNode, placed, (index, word) => directionsAt(placed[index], word, site), shape);
  const trialNode = onlyMember(context, 'trial', 'trial activation');
  const trial = trialNode && resolveTrial(trialNode, activationNode !== undefined, shape);
  const gaugeNode = onlyMember(context, 'gauge', 'gauge reading');
  const gauge = gaugeNode && resolveGauge(gaugeNode, activationNode !== undefined, shape);
  const requirements = membersOf(node, 'require').flatMap(
    (member) =>
      resolveRequirement(
        member,
        { activation: activationNode !== undefined, visits: membersOf(node, 'visits').length > 0 },
        context,
      ) ?? [],
  );
  const visitsNode = onlyMember(context, 'visits', 'visits');
  const visits = visitsNode && resolveVisits(visitsNode, context, placed, groups.placed, activation);
  const seated = placed.length === fitted.length && fitted.every((one) => one.complete && seats.has(one.name));
  const held = seated && cinchable && loads.length === membersOf(node, 'load').length;
  const usable = layout?.complete && held && (activation !== undefined || activationNode === undefined);
  return {
    name: (variant?.item ?? node).name?.text ?? '',
    variant: variant?.item,
    main,
    auxiliaries: [],
    uri: home.uri,
    node,
    site,
    parameters,
    steps: layout?.steps ?? [],
    attachments: [...attachments.values()],
    teeth,
    groups: groups.described,
    loops: layout?.loops.map(({ name, span }) => ({ name, span })) ?? [],
    marks: layout?.marks ?? [],
    alloy: context.alloy(),
    requirements,
    visits,
    gauge,
    values: knownValues(context),
    scope,
    design:
      usable && wire ? designOf(layout, wire, placed, { activation, trial, loads, groups: groups.placed }) : undefined,
  };
}

function createContext(
  node: ApplianceItem,
  site: Site,
  home: Home,
  recorder: Recorder,
  reported: (uri: string, problem: Problem) => boolean,
  outer: Scope,
): ApplianceContext {
  const scope = innerScope(outer);
  const wireLine = lazily<WireLine>(
    () => resolveWire(context),
    () => {},
  );
  const wire = () => wireLine()?.wire;
  const auxiliary = (definition: Definition) => auxiliaryAttachments(definition, node, site);
  const place = (results: (() => undefined) | undefined): Place => ({
    scope,
    recorder,
    text: home.text,
    member: memberLookup({ wire, insideAppliance: true, results, auxiliary }),
  });
  const context: ApplianceContext = {
    node,
    site,
    home,
    recorder,
    scope,
    wire,
    alloy: () => wireLine()?.alloy,
    shape: place(undefined),
    results: place(() => undefined),
    define: (definition) => define(context, definition),
    reported,
  };
  return context;
}

/** As its lines have them: an auxiliary is resolved after its appliance. */
function auxiliaryAttachments({ node, home }: Definition, main: ApplianceItem, site: Site): Definition[] | undefined {
  if (node.kind !== 'appliance' || !main.name || node.auxiliary?.base?.text !== main.name.text) return undefined;
  const sites = { site, written: site, stated: true };
  return attachmentsOnTeeth(membersOf(node, 'attachment'), sites, SILENT).flatMap((one) =>
    one.node.name ? [newDefinition('attachment', one.node.name, one.node, home)] : [],
  );
}

function define({ scope, recorder }: ApplianceContext, definition: Definition): void {
  const first = scope.own.get(definition.name);
  recorder.reference(definition.span, definition);
  // A step that is repeated defines its name once.
  if (first?.definition.span.start === definition.span.start) return;
  if (first) recorder.problem(duplicateName.at(definition.span, definition.name, first.definition));
  else scope.own.set(definition.name, { definition, value: () => undefined });
}

function defineAttachments(onTeeth: readonly AttachmentOnTooth[], context: ApplianceContext): Map<string, Definition> {
  const attachments = new Map<string, Definition>();
  for (const { node } of onTeeth) {
    if (!node.name) continue;
    const definition = newDefinition('attachment', node.name, node, context.home);
    context.define(definition);
    if (!attachments.has(definition.name)) attachments.set(definition.name, definition);
  }
  return attachments;
}

interface WireLine {
  readonly wire: Wire | undefined;
  readonly alloy: Definition | undefined;
}

function resolveWire(context: ApplianceContext): WireLine {
  const { node, home, recorder, shape } = context;
  const member = onlyMember(context, 'wire', 'wire');
  if (!member) {
    if (node.name && isClosed(node.span, home.text)) recorder.problem(missingWire.at(node.name.span, node.name.text));
    return { wire: undefined, alloy: undefined };
  }
  const section = resolveSection(member.size, shape);
  const definition = member.alloy && findOfKind('alloy', member.alloy, shape);
  const alloy = definition && alloyOf(definition);
  const { stressRelieved } = member;
  return { wire: section && alloy && { section, alloy, stressRelieved }, alloy: definition };
}

function knownValues({ scope }: ApplianceContext): Map<string, Quantity> {
  const values = new Map<string, Quantity>();
  for (const [name, named] of scope.own) {
    const quantity = knownQuantity(named.value());
    if (quantity) values.set(name, quantity);
  }
  return values;
}

function designOf(
  layout: Layout,
  wire: Wire,
  attachments: readonly Attachment[],
  {
    activation,
    trial,
    loads,
    groups,
  }: {
    readonly activation: Activation | undefined;
    readonly trial: number | undefined;
    readonly loads: readonly Load[];
    readonly groups: readonly ToothGroup[];
  },
): ApplianceDesign {
  const origin = originOf(layout);
  return {
    elements: layout.elements,
    section: wire.section,
    alloy: wire.alloy,
    start: { position: subtract([0, 0, 0], origin), axes: layout.start.axes },
    attachments,
    activation,
    ...(trial !== undefined && { trialActivation: trial }),
    loops: layout.loops.map(({ name, feet, running, normal }) => ({ name, feet, running, normal })),
    loads,
    groups,
  };
}
