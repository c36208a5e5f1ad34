/** Loads on the teeth at the working activation that are beyond what is usual. */
import type { ApplianceAnalysis, EngagedState } from '#core/analysis/analysis';
import { FORCE } from '#core/units/dimension';
import { formatApart, type UnitPreferences } from '#core/units/format';
import { forceBeyondUsual } from '../diagnostics/force-beyond-usual';
import { momentBeyondUsual } from '../diagnostics/moment-beyond-usual';
import type { Problem } from '../problem';
import type { Provenance } from '../provenance';
import type { ResolvedAppliance } from '../resolved';
import { type GroupFigures, groupFigures } from '../tooth-movement';
import { USUAL_LOADS, USUAL_PER_TOOTH } from '../usual-loads';

export function beyondUsual(
  appliance: ResolvedAppliance,
  { neutral, stages }: ApplianceAnalysis,
  workingActivation: number,
  preferences: UnitPreferences,
): Problem[] {
  const { design, attachments } = appliance;
  const state = stages.find(({ activation }) => Math.abs(activation - workingActivation) < 1e-9)?.state;
  // The forces of a wire that would not stay as computed mean nothing.
  if (!design || !state?.stable || neutral?.stable === false) return [];
  const grouped = new Set(teethOfGroups(appliance).flatMap(({ group }) => group.attachments));
  return [
    ...design.attachments.flatMap(({ name }, index) => {
      const place = attachments.find((definition) => definition.name === name);
      const wrench = state.wrenches[index];
      if (!place || !wrench) return [];
      return USUAL_LOADS.flatMap(({ code, movement, upper, amount, activated, ...source }) => {
        if (activated && !design.activation) return [];
        // What a group gets is held against what is usual for each of its teeth.
        if (code === 'force' && grouped.has(index)) return [];
        const actual = amount(wrench);
        if (actual <= upper.value) return [];
        const [shown, limit] = formatApart({ value: actual, dimension: upper.dimension }, upper, preferences);
        const diagnostic = code === 'force' ? forceBeyondUsual : momentBeyondUsual;
        return [diagnostic.at(place.span, name, shown, limit, movement, sourceWords(source))];
      });
    }),
    ...groupsBeyondUsual(appliance, state, preferences),
  ];
}

function groupsBeyondUsual(appliance: ResolvedAppliance, state: EngagedState, preferences: UnitPreferences): Problem[] {
  const { design } = appliance;
  if (!design) return [];
  const figures = groupFigures(design, state);
  return teethOfGroups(appliance).flatMap(({ index, described }) => {
    const { name } = described.node;
    const count = described.teeth.length;
    return perTooth(figures[index]).flatMap(({ force, movement, kind }) => {
      const { upper, ...source } = USUAL_PER_TOOTH[kind];
      const actual = force / count;
      if (actual <= upper.value || !name) return [];
      const [shown, limit] = formatApart({ value: actual, dimension: FORCE }, upper, preferences);
      const each = count === 1 ? name.text : `Each of the ${count} teeth of ${name.text}`;
      return [forceBeyondUsual.at(name.span, each, shown, limit, movement, sourceWords(source))];
    });
  });
}

/** Groups of which it is known how many teeth they are. */
function teethOfGroups({ design, groups }: ResolvedAppliance) {
  return (design?.groups ?? []).flatMap((group, index) => {
    const described = groups.find(({ name }) => name === group.name);
    return described && described.teeth.length > 0 ? [{ group, index, described }] : [];
  });
}

/** Along the arch and up or down, N. */
function perTooth({ wrench, along }: GroupFigures): {
  readonly kind: keyof typeof USUAL_PER_TOOTH;
  readonly force: number;
  readonly movement: string;
}[] {
  const [mesial, gingival] = wrench.force;
  const kind = along?.kind.includes('tipping') ? 'tipping' : along?.kind === 'root movement' ? 'root' : 'bodily';
  return [
    { kind, force: Math.abs(mesial), movement: along?.kind ?? 'movement' },
    gingival > 0
      ? { kind: 'intrusion', force: gingival, movement: 'intrusion' }
      : { kind: 'extrusion', force: -gingival, movement: 'extrusion' },
  ];
}

function sourceWords({ state, reference }: Provenance): string {
  const words = {
    practice: 'common practice',
    memory: 'recalled from',
    found: 'found on',
    computed: 'computed',
    unstated: 'source not stated',
  };
  return `${words[state]}: ${reference}`.replace('found on: ', 'found on ');
}
