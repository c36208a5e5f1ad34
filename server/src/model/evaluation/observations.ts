/** What the analysis shows that someone should know: past yield, touching, crossed or over-opened legs. */
import type { ApplianceAnalysis, Contact } from '#core/analysis/analysis';
import { sectionProperties } from '#core/material/section';
import { FORCE, LENGTH } from '#core/units/dimension';
import { formatQuantity, type UnitPreferences } from '#core/units/format';
import type { Span } from '#grammar/tree';
import { headOf } from '../appliance/context';
import { armsInOneLine } from '../diagnostics/arms-in-one-line';
import { heldLengthwise } from '../diagnostics/held-lengthwise';
import { legsCross } from '../diagnostics/legs-cross';
import { pastParallelLegs } from '../diagnostics/past-parallel-legs';
import { unstableState } from '../diagnostics/unstable-state';
import { wireTouchesItself } from '../diagnostics/wire-touches-itself';
import type { Problem } from '../problem';
import type { ResolvedAppliance } from '../resolved';
import { outerSection, stockAt } from '../stock';
import { beyondUsual } from './usual-loads';
import { yieldingProblems } from './yielding';

export function observations(
  appliance: ResolvedAppliance,
  analysis: ApplianceAnalysis,
  workingActivation: number,
  text: string,
  preferences: UnitPreferences,
): Problem[] {
  const crossed = crossedLegs(appliance, analysis);
  const passing = passingArms(appliance, analysis);
  const touches = (contact: Contact) =>
    contact.clearance < 0 &&
    contact.stations[1] - contact.stations[0] >= soonestReturn(appliance, contact.stations[0]) &&
    !passing.explain(contact);
  const contacts = {
    nominal: analysis.contacts.nominal.filter(touches),
    // Legs of an open loop that cross have been reported as that.
    neutral: crossed.length > 0 ? [] : analysis.contacts.neutral.filter(touches),
  };
  return [
    ...unstable(appliance, analysis, text),
    ...yieldingProblems(appliance, analysis, workingActivation, text),
    ...stretched(appliance, analysis, preferences),
    ...touching(appliance, contacts, text),
    ...crossed,
    ...passing.problems,
    ...pastParallel(appliance, analysis, workingActivation),
    ...beyondUsual(appliance, analysis, workingActivation, preferences),
  ];
}

/** At neutral and at the first stage at which the wire would not stay. */
function unstable(
  { node, design }: ResolvedAppliance,
  { neutral, stages }: ApplianceAnalysis,
  text: string,
): Problem[] {
  const place = node.members.find(({ kind }) => kind === (design?.activation ? 'activation' : 'path')) ?? node;
  const span = headOf(place.span, text);
  const first = stages.find(({ state }) => state && !state.stable);
  if (!design?.activation) return first ? [unstableState.at(span, '')] : [];
  return [
    ...(neutral && !neutral.stable ? [unstableState.at(span, ' at neutral')] : []),
    ...(first ? [unstableState.at(span, ` at ${length(first.activation)} of activation`)] : []),
  ];
}

/** A wire that nothing lets slide, stretched between slots harder than it pushes sideways. */
function stretched(
  { design, attachments }: ResolvedAppliance,
  analysis: ApplianceAnalysis,
  preferences: UnitPreferences,
): Problem[] {
  const forces = analysis.stages[0]?.state?.wrenches.map(({ force }) => force) ?? [];
  if (!design || design.activation) return [];
  const holding = design.attachments.filter(
    ({ fitting, lengthwise }) => (fitting === 'tube' || fitting === 'bracket') && lengthwise === 'held',
  );
  const along = Math.max(...forces.map(([mesial]) => Math.abs(mesial)), 0);
  const across = Math.max(...forces.map(([, gingival, buccal]) => Math.hypot(gingival, buccal)), 0);
  if (holding.length < 2 || along <= across || along < NOTABLE_PULL) return [];
  const names = holding.map(({ name }) => name);
  const place = attachments.find(({ name }) => name === names[0]);
  const [pull, sidewise] = [along, across].map((value) => formatQuantity({ value, dimension: FORCE }, preferences));
  if (!place) return [];
  const problem = heldLengthwise.at(place.span, names, pull, sidewise);
  // Between two, a declared pull mends it; along more the forces are not to be used.
  return [names.length > 2 ? { ...problem, severity: 'warning' } : problem];
}

/** N; below it nobody feels a wire that does not slide. */
const NOTABLE_PULL = 0.05;

/** Wire cannot meet its own surface sooner than after half a turn folded flat on itself: the sides of a corner do not count. */
function soonestReturn({ design }: ResolvedAppliance, station: number): number {
  if (!design) return 0;
  const { height, width } = sectionProperties(outerSection(stockAt(design, station)));
  return (Math.PI / 2) * Math.max(height, width);
}

function touching(appliance: ResolvedAppliance, contacts: ApplianceAnalysis['contacts'], text: string): Problem[] {
  const worst = (found: readonly Contact[]) =>
    found.reduce<Contact | undefined>(
      (least, one) => (one.clearance < (least?.clearance ?? 0) ? one : least),
      undefined,
    );
  const nominal = worst(contacts.nominal);
  const neutral = worst(contacts.neutral);
  const report = (state: string, contact: Contact): Problem => {
    const [first, second] = contact.stations;
    return wireTouchesItself.at(placeOf(appliance, second, text), state, length(-contact.clearance), [
      length(first),
      length(second),
    ]);
  };
  // What touches as it lies in place mostly touches at neutral as well; one finding is enough.
  if (nominal) return [report('nominal', nominal)];
  return neutral ? [report('neutral', neutral)] : [];
}

/** The line of the path on which a station lies. */
function placeOf({ steps, node }: ResolvedAppliance, station: number, text: string): Span {
  return (
    steps.find(({ from, to }) => station >= from && station <= to && to > from)?.pathSpan ?? headOf(node.span, text)
  );
}

/** Open loops whose legs would pass each other at neutral. */
function crossedLegs({ loops, design }: ResolvedAppliance, { neutral, nominalLoops }: ApplianceAnalysis): Problem[] {
  if (!design || !neutral) return [];
  return loops.flatMap(({ name, span }, index) => {
    const gap = neutral.loops[index]?.legGap;
    const open = (nominalLoops[index]?.legGap ?? 0) > 0;
    return open && gap !== undefined && gap < 0 ? [legsCross.at(span, name, length(-gap))] : [];
  });
}

/** Wire of base bends and side steps between a foot and the arm, mm: what still belongs to the crossing. */
const BESIDE_FOOT = 3;

/** Closed loops whose arms pass each other in one line, and which contacts come from that. */
function passingArms({ loops, design }: ResolvedAppliance, analysis: ApplianceAnalysis) {
  const closed = loops.flatMap(({ name, span }, index) => {
    const gap = Math.min(analysis.nominalLoops[index]?.legGap ?? 0, analysis.neutral?.loops[index]?.legGap ?? 0);
    const nominalGap = analysis.nominalLoops[index]?.legGap ?? 0;
    const feet = design?.loops[index]?.feet;
    return feet && nominalGap < 0 ? [{ name, span, feet, reach: BESIDE_FOOT - gap, nominalGap }] : [];
  });
  const within = (contact: Contact, { feet, reach }: (typeof closed)[number]) => {
    const [first, second] = contact.stations;
    const onFirstArm = first >= feet[0] - reach && first <= feet[0] + BESIDE_FOOT;
    const onSecondArm = second >= feet[1] - BESIDE_FOOT && second <= feet[1] + reach;
    return onFirstArm && onSecondArm;
  };
  return {
    explain: (contact: Contact) => closed.some((loop) => within(contact, loop)),
    problems: closed
      .filter((loop) => analysis.contacts.nominal.some((contact) => contact.clearance < 0 && within(contact, loop)))
      .map(({ name, span, nominalGap }) => armsInOneLine.at(span, name, length(-nominalGap))),
  };
}

function pastParallel({ loops }: ResolvedAppliance, analysis: ApplianceAnalysis, workingActivation: number): Problem[] {
  return loops.flatMap(({ name, span }, index) => {
    const parallel = analysis.parallelLegs[index];
    // Legs that are parallel at neutral, as without gables, are no sign of any activation.
    const past = parallel !== undefined && parallel > 1e-6 && workingActivation > parallel + 1e-9;
    return past ? [pastParallelLegs.at(span, name, length(parallel), length(workingActivation))] : [];
  });
}

function length(value: number): string {
  return formatQuantity({ value, dimension: LENGTH });
}
