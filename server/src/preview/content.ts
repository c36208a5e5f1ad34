/** What the preview shows of a document: the drawing, and the numbers beside it. */
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceAnalysis, EngagedState, StageResult } from '#core/analysis/analysis';
import { stateBetween } from '#core/analysis/between-stages';
import { carriedAlong, type FurtherWire, sharedAttachments, withFurtherWires } from '#core/analysis/several-wires';
import type { Band } from '#core/analysis/uncertainty';
import type { ApplianceDesign, Attachment, Stock } from '#core/design';
import { type SlotPlay, slotPlay } from '#core/material/slot-play';
import { ANGLE, FORCE, LENGTH, MOMENT, NUMBER, STIFFNESS, STRESS } from '#core/units/dimension';
import { formatBand, formatQuantity } from '#core/units/format';
import type { Dimension } from '#core/units/quantity';
import { drawActivationCharts } from '#drawing/activation-charts';
import { drawAppliance } from '#drawing/appliance';
import { drawBeside } from '#drawing/comparison';
import { bandOfEffect } from '#features/readings/bands';
import type { Settings } from '#features/settings';
import { activationCurves } from '#model/activation-curves';
import { opposite } from '#model/bands';
import { frictionBand, loadName, loadSense, slidThrough, touchPhrase, turnsInSlot } from '#model/contacts';
import { effects } from '#model/effects';
import { type ParameterSize, parameterSizes } from '#model/parameter-sizes';
import type { Problem } from '#model/problem';
import { loadLength } from '#model/results';
import { outerSection, stockAt, stretches } from '#model/stock';
import { groupFigures } from '#model/tooth-movement';
import type { Snapshot, SnapshotAppliance } from '#workspace/snapshot';
import { previewComparison } from './comparison';
import { previewHandles, previewParameters } from './parameters';
import { previewPlan } from './plan';
import type { PreviewContent, PreviewParams, PreviewReadout } from './view';
import { previewVisits } from './visits';

export function previewContent(snapshot: Snapshot, params: PreviewParams, { units }: Settings): PreviewContent {
  const { uri, version, appliances } = snapshot;
  const named = appliances.find(({ appliance }) => appliance.name === params.appliance) ?? appliances[0];
  const shown = named && stageAt(named, params);
  const stage = shown && stageNearest(shown, params.activation);
  const sizes = shown && params.show?.handles && !shown.stale ? parameterSizes(shown.appliance) : [];
  // All at one activation, so that like is compared with like, unless this one has none.
  const common = params.activation ?? (shown?.design?.activation ? stage?.activation : undefined);
  const others = (params.others ?? []).flatMap((name) => {
    const other = appliances.find((one) => one.appliance.name === name && one !== named);
    return other ? [stageAt(other, { ...params, activation: common })] : [];
  });
  return {
    ...{ uri, version },
    appliances: appliances.map(({ appliance }) => appliance.name),
    appliance: shown?.appliance.name,
    stale: shown?.stale ?? false,
    notice: notice(snapshot, shown),
    activation: shown && activationRange(shown, stage),
    drawing: shown && drawing(shown, others, sizes, stage, common, params, units),
    comparison:
      shown && others.length > 0
        ? previewComparison(
            [shown, ...others].map((one, k) => ({
              shown: one,
              stage: k === 0 ? stage : stageNearest(one, common),
              number: k > 0 && others.length > 1 && params.layout !== 'beside' ? k : undefined,
            })),
            units,
          )
        : undefined,
    readouts: shown === undefined ? [] : readouts(shown, stage, units),
    charts: shown && params.charts ? charts(shown, snapshot.text, stage?.activation, units) : [],
    parameters: shown === undefined ? [] : previewParameters(shown.appliance, snapshot.text),
    handles: shown === undefined ? [] : previewHandles(shown.appliance, sizes, snapshot.text),
    hasVisits: shown?.appliance.visits !== undefined,
    visits: shown && params.visits && !shown.stale ? previewVisits(shown, units) : undefined,
    plan: shown && params.plan && !shown.stale ? previewPlan(shown, snapshot.text) : undefined,
  };
}

function drawing(
  shown: SnapshotAppliance,
  others: readonly SnapshotAppliance[],
  handles: readonly ParameterSize[],
  stage: StageResult | undefined,
  common: number | undefined,
  { show, layout, width = 960 }: PreviewParams,
  units: Settings['units'],
): string | undefined {
  const options = { activation: stage?.activation, units, show, mainOnly: !show?.second };
  if (layout === 'beside' && others.length > 0) {
    const all = [
      { drawable: shown, options: { ...options, handles } },
      ...others.map((drawable) => ({ drawable, options: { ...options, activation: common } })),
    ];
    return drawBeside(all, width);
  }
  return drawAppliance(shown, { ...options, handles, width: Math.max(width, narrowest), over: others });
}

/** A narrower canvas leaves no room for the wire between its labels; the page shows it smaller instead. */
const narrowest = 720;

/** None of an earlier text: what it required is not at hand. */
function charts(
  shown: SnapshotAppliance,
  text: string,
  activation: number | undefined,
  units: Settings['units'],
): PreviewContent['charts'] {
  const curves = shown.stale ? undefined : activationCurves(shown, text);
  return curves ? drawActivationCharts(curves, { activation, units }) : [];
}

/** Which appliance is shown, and at which activation. */
export function shownInPreview(
  { appliances }: Snapshot,
  params: PreviewParams,
): { readonly appliance: string | undefined; readonly activation: number | undefined } {
  const named = appliances.find(({ appliance }) => appliance.name === params.appliance) ?? appliances[0];
  const stage = named && stageNearest(stageAt(named, params), params.activation);
  return { appliance: named?.appliance.name, activation: stage?.activation };
}

/** The appliance with the activation asked for among its stages: read off those around it, or solved where it is none of them. */
function stageAt(shown: SnapshotAppliance, { activation: asked, moving }: PreviewParams): SnapshotAppliance {
  const { analysis, design } = shown;
  const stages = design?.activation?.stages ?? [];
  if (asked === undefined || analysis?.neutral === undefined || !design?.activation || stages.length === 0)
    return shown;
  const activation = Math.min(Math.max(asked, Math.min(...stages)), Math.max(...stages));
  if (analysis.stages.some((stage) => Math.abs(stage.activation - activation) < sameActivation)) return shown;
  const declared = analysis.stages.slice(0, stages.length);
  const between =
    moving && declared.every(({ state }) => state)
      ? stateBetween(
          declared.flatMap(({ state }) => state ?? []),
          activation,
        )
      : undefined;
  if (between) return withStage(shown, analysis, { activation, state: between, failure: undefined }, undefined);
  const own = analyseAppliance({ ...design, activation: { ...design.activation, stages: [activation] } });
  const further = carriedAlong(shown.further, design, own, analyseAppliance);
  const one = withFurtherWires(design, own, further);
  return withStage({ ...shown, further }, analysis, one.stages[0], one.stiffness[0]);
}

function withStage(
  shown: SnapshotAppliance,
  analysis: ApplianceAnalysis,
  stage: StageResult,
  stiffness: number | undefined,
): SnapshotAppliance {
  const { stages, stiffness: known } = analysis;
  return { ...shown, analysis: { ...analysis, stages: [...stages, stage], stiffness: [...known, stiffness] } };
}

/** Activations closer than this, mm, are the same. */
const sameActivation = 1e-6;

/** The solved stage nearest to the activation asked for, or to the working one. */
function stageNearest(
  { analysis, workingActivation }: SnapshotAppliance,
  activation = workingActivation ?? 0,
): StageResult | undefined {
  const distance = (stage: StageResult): number => Math.abs(stage.activation - activation);
  return analysis?.stages
    .filter(({ state }) => state !== undefined)
    .reduce<StageResult | undefined>(
      (nearest, stage) => (nearest === undefined || distance(stage) < distance(nearest) ? stage : nearest),
      undefined,
    );
}

function activationRange(
  { design }: SnapshotAppliance,
  stage: StageResult | undefined,
): PreviewContent['activation'] | undefined {
  const stages = design?.activation?.stages ?? [];
  if (stages.length < 2 || stage === undefined) return undefined;
  const steps = stages.slice(1).map((value, index) => Math.abs(value - stages[index]));
  return {
    value: stage.activation,
    from: Math.min(...stages),
    to: Math.max(...stages),
    step: Math.min(...steps.filter((step) => step > 0)),
  };
}

/** What is wrong, in one line; an earlier drawing says so itself. */
function notice({ problems, silenced }: Snapshot, shown: SnapshotAppliance | undefined): string | undefined {
  if (shown === undefined) return 'This file has no appliance yet. Write `appliance name { … }` to see one.';
  const error = problems.find(({ severity }) => severity === 'error');
  if (shown.analysis === undefined) return error?.message ?? 'There is nothing to compute here yet.';
  if (shown.stale) return undefined;
  const isSilenced = ({ code, message }: Problem) =>
    silenced.some(({ problem }) => problem.code === code && problem.message === message);
  return shown.problems.find(
    (problem) => problem.severity === 'error' && problem.code !== 'requirement-missed' && !isSilenced(problem),
  )?.message;
}

function readouts(
  { appliance, analysis, design, gauged, stale, bands, further }: SnapshotAppliance,
  stage: StageResult | undefined,
  units: Settings['units'],
): PreviewReadout[] {
  if (analysis === undefined || design === undefined) return [];
  const { neutral, developedLength } = analysis;
  const state = stage?.state;
  const spread = bands?.activation === stage?.activation ? bands : undefined;
  const show = (value: number, dimension: Dimension, band?: Pick<Band, 'low' | 'high'>): string =>
    band === undefined ? formatQuantity({ value, dimension }, units) : formatBand({ value, dimension }, band, units);
  const line = (group: string, label: string, value: string, words?: string): PreviewReadout[] => [
    { group, label, value, words },
  ];
  const stiffness = analysis.stiffness[stage === undefined ? -1 : analysis.stages.indexOf(stage)];
  const moving = design.activation !== undefined;
  return [
    ...line('Wire', 'developed length', show(developedLength, LENGTH), stale ? 'of an earlier text' : undefined),
    ...further.flatMap((wire) => line('Wire', 'with', wire.name, sharedWords(wire, design))),
    ...stretches(design)
      .slice(1)
      .flatMap(({ from, stock }) =>
        line('Wire', `from ${show(from, LENGTH)}`, sectionWords(stock), `of ${stock.alloy.name}`),
      ),
    ...(gauged === undefined
      ? []
      : line('Wire', 'modulus', show(gauged.corrected, STRESS), 'corrected by the gauge reading')),
    ...(moving && neutral !== undefined
      ? line('Activation', 'neutral at', show(neutral.motion, LENGTH, spread?.bands.neutral))
      : []),
    ...(moving && stage !== undefined ? line('Activation', 'from neutral', show(stage.activation, LENGTH)) : []),
    ...(stiffness === undefined
      ? []
      : line('Activation', 'stiffness', show(stiffness, STIFFNESS, spread?.bands.stiffness))),
    ...yieldingReadouts(analysis, moving, line, show),
    ...(state === undefined
      ? []
      : [
          ...line(
            'Wire',
            state.fibreStress === undefined ? 'largest stress' : 'elastic stress (nominal)',
            show(state.stress, STRESS, spread?.bands.stress),
            `at ${show(state.stressStation, LENGTH)}`,
          ),
          ...(state.fibreStress === undefined
            ? []
            : line('Wire', 'fibre stress', show(state.fibreStress, STRESS), 'yielding included')),
          ...line('Wire', 'elastic use', show(state.elasticUse, NUMBER, spread?.bands.elasticUse)),
          ...design.loops.flatMap(({ name }, index) => {
            const { legGap, legAngle } = state.loops[index];
            const gap = spread?.bands.loops[index].legGap;
            return [
              ...line(
                name,
                'leg gap',
                show(Math.abs(legGap), LENGTH, legGap < 0 ? gap && opposite(gap) : gap),
                legGap < 0 ? 'crossed' : undefined,
              ),
              ...line(name, 'leg angle', show(legAngle, ANGLE, spread?.bands.loops[index].legAngle)),
            ];
          }),
          ...design.attachments.flatMap(({ name }, index) =>
            effects(state.wrenches[index]).flatMap((effect) =>
              line(
                name,
                `${effect.kind} ${effect.name.replace('_', '-')}`,
                show(
                  effect.amount,
                  effect.kind === 'force' ? FORCE : MOMENT,
                  bandOfEffect(spread, index, effect) ?? frictionBand(state.friction, index, effect),
                ),
                spread === undefined && frictionBand(state.friction, index, effect) !== undefined
                  ? `${effect.words}; in brackets: by friction`
                  : effect.words,
              ),
            ),
          ),
          ...groupReadouts(state, design, line, show),
          ...design.attachments.flatMap((_, index) => seatReadouts(state, design, index, line, show)),
          ...state.loads.flatMap((load, index) => {
            const name = loadName(design.loads[index], design, appliance);
            return [
              ...line(name, 'force', show(Math.abs(load.force), FORCE), loadSense(load)),
              ...line(name, 'length', show(loadLength(load), LENGTH)),
            ];
          }),
        ]),
    ...design.attachments.flatMap((attachment) =>
      playReadouts(slotPlay(attachment, outerSection(stockAt(design, attachment.station))), attachment, line, show),
    ),
  ];
}

/** On which teeth what it does is counted in. */
function sharedWords({ design }: FurtherWire, main: ApplianceDesign): string {
  const shared = sharedAttachments(main, design);
  return shared.length > 0 ? `on ${shared.join(', ')}: figures there are of both wires` : 'on no tooth of this wire';
}

/** "0.432 × 0.635 mm", "round 0.406 mm, doubled" */
function sectionWords({ section, count }: Stock): string {
  const length = (value: number) => formatQuantity({ value, dimension: LENGTH });
  const size =
    section.kind === 'round'
      ? `round ${length(section.diameter)}`
      : `${length(section.height)} × ${length(section.width)}`;
  return count === 1 ? size : `${size}, doubled`;
}

/** What the wire does to each group of teeth at its centre of resistance. */
function groupReadouts(
  state: EngagedState,
  design: ApplianceDesign,
  line: (group: string, label: string, value: string, words?: string) => PreviewReadout[],
  show: (value: number, dimension: Dimension) => string,
): PreviewReadout[] {
  return groupFigures(design, state).flatMap(({ group, wrench, along, rootPressure }) => [
    ...effects(wrench).flatMap(({ kind, name, amount }) =>
      amount > 0
        ? line(group.name, `${kind} ${name.replace('_', '-')}`, show(amount, kind === 'force' ? FORCE : MOMENT))
        : [],
    ),
    ...(along?.lineOfAction === undefined
      ? []
      : line(
          group.name,
          'line of action',
          show(Math.abs(along.lineOfAction), LENGTH),
          `${along.lineOfAction > 0 ? 'occlusal' : 'apical'} of the centre of resistance: ${along.kind}`,
        )),
    ...(along?.rotationCentre === undefined
      ? []
      : line(
          group.name,
          'centre of rotation',
          show(Math.abs(along.rotationCentre), LENGTH),
          `${along.rotationCentre > 0 ? 'apical' : 'occlusal'} of the centre of resistance`,
        )),
    ...(rootPressure === undefined ? [] : line(group.name, 'load of the roots', show(rootPressure, STRESS), 'mean')),
  ]);
}

/** Wire that has slid, how the wire touches a slot with play, and what that takes of a bend and a twist. */
function seatReadouts(
  state: EngagedState,
  design: ApplianceDesign,
  index: number,
  line: (group: string, label: string, value: string, words?: string) => PreviewReadout[],
  show: (value: number, dimension: Dimension) => string,
): PreviewReadout[] {
  const { name } = design.attachments[index];
  const slid = slidThrough(state, design, index);
  const seated = state.seated[index];
  return [
    ...(slid === undefined
      ? []
      : line(name, 'slid', show(Math.abs(slid), LENGTH), `toward the wire's ${slid > 0 ? 'end' : 'start'}`)),
    ...(!seated
      ? []
      : [
          ...line(name, 'touches', touchPhrase(seated)),
          ...turnsInSlot(seated).flatMap(({ name: turn, angle }) =>
            line(name, `${turn} in the slot`, show(angle, ANGLE), 'taken by play'),
          ),
        ]),
  ];
}

/** How far the slot lets the wire turn; without \`with play\` the computation leaves it out. */
function playReadouts(
  play: SlotPlay | undefined,
  { name, play: isComputed }: Attachment,
  line: (group: string, label: string, value: string, words?: string) => PreviewReadout[],
  show: (value: number, dimension: Dimension) => string,
): PreviewReadout[] {
  if (play === undefined) return [];
  const { thirdOrder, secondOrder } = play;
  const words = isComputed ? 'until it touches' : 'not computed';
  return [
    ...line(name, 'play, third order', thirdOrder === 'free' ? 'turns freely' : show(thirdOrder, ANGLE), words),
    ...(secondOrder === undefined ? [] : line(name, 'play, second order', show(secondOrder, ANGLE), words)),
  ];
}

/** What a trial activation did, or would do, to a wire that yields. */
function yieldingReadouts(
  { yielding }: ApplianceAnalysis,
  moving: boolean,
  line: (group: string, label: string, value: string, words?: string) => PreviewReadout[],
  show: (value: number, dimension: Dimension) => string,
): PreviewReadout[] {
  if (!yielding?.trial) return [];
  const { first, trial, stages } = yielding;
  const group = stages === 'after-trial' ? 'Trial activation' : 'If pulled on trial';
  const room = trial.largestWithoutSet;
  return [
    ...(moving
      ? [
          ...line(group, 'pulled to', show(trial.amount, LENGTH), 'from neutral'),
          ...line(group, 'neutral before', show(first.neutral.motion, LENGTH)),
          ...line(group, 'neutral after', show(trial.neutral.motion, LENGTH)),
        ]
      : []),
    ...line(group, 'set', show(trial.setTurn, ANGLE), 'between the attachments'),
    ...(room === undefined ? [] : line(group, 'no further set up to', show(room, LENGTH), 'from neutral')),
  ];
}
