/** Turns evaluated files into the report of the public contract (`schema.ts`). */

import type { EngagedState, Failure, Formed, LoopState, Yielding } from '#core/analysis/analysis';
import { sharedAttachments } from '#core/analysis/several-wires';
import type { ApplianceDesign, Attachment, Motion, Section } from '#core/design';
import { type SlotPlay, slotPlay } from '#core/material/slot-play';
import { applyTransposed, column, scale, type Vec3 } from '#core/math/vector';
import { assumptionsOf } from '#model/assumptions';
import type { BendingPlanOptions } from '#model/bending/bending-plan';
import type { Problem, Silenced } from '#model/problem';
import { DEFAULTS } from '#model/provenance';
import type { EvaluatedAppliance, ResolvedAppliance, Verdict } from '#model/resolved';
import { outerSection, stockAt, stretches } from '#model/stock';
import { reportAssumption } from './assumptions';
import { reportBands } from './bands';
import { reportPlan } from './bending-plan';
import { reportBends } from './bends';
import { contactOf, pullsOf, seatOf } from './contacts';
import { loadOf } from './load';
import { rounded } from './rounded';
import type {
  AnalyzeReport,
  CheckReport,
  ReportAppliance,
  ReportProblem,
  ReportRequirement,
  ReportSilenced,
  ReportStage,
  ReportState,
  ReportSummary,
} from './schema';
import { type TextPosition, textPositions } from './text-position';
import { reportGroups, reportVisits } from './tooth-response';

/** One file as the command line found it. */
export type ReportInput =
  | { readonly path: string; readonly unreadable: string }
  | {
      /** Relative, with forward slashes. */
      readonly path: string;
      readonly text: string;
      readonly problems: readonly Problem[];
      readonly silenced: readonly Silenced[];
      readonly appliances: readonly EvaluatedAppliance[];
    };

export interface ReportOptions {
  readonly version: string;
  readonly model: 'full' | 'bending-only';
  /** With the bending plan, for a bench of this kind. */
  readonly plan?: BendingPlanOptions;
}

/** Wire left at each end to hold it by, mm. */
export const holdingAllowance = DEFAULTS.holding.value.value;

export const caution =
  'Calculated estimates for design, research and teaching, not a prescription. A licensed practitioner decides; ' +
  "local rules and the maker's data for the wire in hand come first.";

export function buildAnalyzeReport(inputs: readonly ReportInput[], options: ReportOptions): AnalyzeReport {
  const files = inputs.map((input) => {
    if ('unreadable' in input) return { ...input, problems: [], silenced: [], appliances: [] };
    const at = textPositions(input.text);
    return {
      path: input.path,
      unreadable: null,
      problems: input.problems.map((problem) => reportProblem(problem, at)),
      silenced: input.silenced.map(({ problem, reason }) => ({ ...reportProblem(problem, at), reason })),
      appliances: input.appliances.map((appliance) => ({
        ...reportAppliance(appliance, at),
        ...(options.plan ? { plan: reportPlan(appliance, at, options.plan) } : {}),
      })),
    };
  });
  return { ...heading(options), command: 'analyze', files, summary: summarise(files) };
}

export function buildCheckReport(inputs: readonly ReportInput[], options: ReportOptions): CheckReport {
  const files = inputs.map((input) => {
    if ('unreadable' in input) return { ...input, problems: [], silenced: [], appliances: [] };
    const at = textPositions(input.text);
    return {
      path: input.path,
      unreadable: null,
      problems: input.problems.map((problem) => reportProblem(problem, at)),
      silenced: input.silenced.map(({ problem, reason }) => ({ ...reportProblem(problem, at), reason })),
      appliances: input.appliances.map(({ appliance, verdicts }) => ({
        name: appliance.name,
        variantOf: variantOf(appliance),
        auxiliaryOf: appliance.main?.name ?? null,
        line: at((appliance.variant ?? appliance.node).span.start).line,
        requirements: verdicts.map((verdict) => reportRequirement(verdict, at)),
      })),
    };
  });
  return { ...heading(options), command: 'check', files, summary: summarise(files) };
}

function heading({ version, model }: ReportOptions) {
  return { schemaVersion: 1, tool: { name: 'springwright', version }, model, caution } as const;
}

function reportProblem(problem: Problem, at: (offset: number) => TextPosition): ReportProblem {
  const start = at(problem.span.start);
  const end = at(problem.span.end);
  return {
    code: problem.code,
    severity: problem.severity,
    line: start.line,
    column: start.column,
    endLine: end.line,
    endColumn: end.column,
    message: problem.message,
    hint: problem.hint ?? null,
  };
}

function reportRequirement(verdict: Verdict, at: (offset: number) => TextPosition): ReportRequirement {
  return {
    ...at(verdict.condition.span.start),
    kind: verdict.severity === 'error' ? 'require' : 'prefer',
    stage: verdict.requirement.stage,
    activation: verdict.activation === undefined ? null : rounded(verdict.activation),
    condition: verdict.text,
    outcome: verdict.outcome,
    actual: verdict.actualText ?? null,
    actualValue: verdict.actual === undefined ? null : rounded(verdict.actual.value),
    expected: verdict.expectedText ?? null,
    reason: verdict.reason ?? null,
    because: verdict.because ?? null,
  };
}

/** Everything about one appliance, as the JSON contract has it. */
export function reportAppliance(evaluated: EvaluatedAppliance, at: (offset: number) => TextPosition): ReportAppliance {
  const { appliance, analysis, workingActivation, verdicts, bands, further } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  const developed = analysis?.developedLength;
  const listed = design?.activation?.stages.length ?? 1;
  return {
    name: appliance.name,
    variantOf: variantOf(appliance),
    auxiliaryOf: appliance.main?.name ?? null,
    auxiliaries: further.map((wire) => ({
      name: wire.name,
      shares: design ? sharedAttachments(design, wire.design) : [],
    })),
    line: at((appliance.variant ?? appliance.node).span.start).line,
    site: { ...appliance.site, side: appliance.site.side ?? null },
    wire: design === undefined ? null : reportWire(design),
    ...(design !== undefined && reportStretches(design)),
    developedLength: developed === undefined ? null : rounded(developed),
    cutLength:
      developed === undefined
        ? null
        : { length: rounded(developed + 2 * holdingAllowance), allowancePerEnd: holdingAllowance },
    attachments: (design?.attachments ?? []).map((attachment) => ({
      name: attachment.name,
      fitting: attachment.fitting,
      tooth: appliance.teeth.get(attachment.name)?.number ?? null,
      station: rounded(attachment.station),
      play: reportPlay(design && slotPlay(attachment, outerSection(stockAt(design, attachment.station)))),
      ...contactOf(attachment),
    })),
    activation: design === undefined ? null : reportActivation(design),
    status: analysis === undefined ? 'no-wire' : statusOf(analysis.failure),
    neutral:
      design === undefined || analysis?.neutral === undefined ? null : reportState(analysis.neutral, design, appliance),
    stages: (analysis?.stages ?? []).map(
      ({ activation, state, failure }, index): ReportStage => ({
        activation: rounded(activation),
        listed: index < listed,
        status: statusOf(failure),
        state: design === undefined || state === undefined ? null : reportState(state, design, appliance),
        stiffness: stiffnessOf(analysis?.stiffness[index]),
      }),
    ),
    gauge: reportGauge(evaluated),
    trialActivation: design?.trialActivation === undefined ? null : rounded(design.trialActivation),
    yielding: design === undefined ? null : reportYielding(analysis?.yielding, design, appliance),
    unfollowed: analysis?.unfollowed?.reason ?? null,
    workingActivation: workingActivation === undefined ? null : rounded(workingActivation),
    firstYield: analysis?.firstYield === undefined ? null : rounded(analysis.firstYield),
    parallelLegs: (design?.loops ?? []).map(({ name }, index) => {
      const activation = analysis?.parallelLegs[index];
      return { loop: name, activation: activation === undefined ? null : rounded(activation) };
    }),
    requirements: verdicts.map((verdict) => reportRequirement(verdict, at)),
    bends: reportBends(appliance, at),
    assumptions: assumptionsOf(appliance).map(reportAssumption),
    bands: design === undefined || bands === undefined ? null : reportBands(bands, design, at),
    ...(design !== undefined &&
      design.groups.length > 0 && { groups: reportGroups(appliance, design, workingStateOf(evaluated)) }),
    ...visitsOf(evaluated),
  };
}

/** The state at the working activation. */
function workingStateOf({ analysis, workingActivation }: EvaluatedAppliance): EngagedState | undefined {
  return analysis?.stages.find(({ activation }) => activation === (workingActivation ?? 0))?.state;
}

function visitsOf(evaluated: EvaluatedAppliance): Pick<ReportAppliance, 'visits'> {
  const visits = reportVisits(evaluated);
  return visits ? { visits } : {};
}

function reportGauge({ appliance: { gauge }, gauged }: EvaluatedAppliance): ReportAppliance['gauge'] {
  if (gauge === undefined || gauged === undefined) return null;
  return {
    force: rounded(gauge.force),
    activation: rounded(gauge.activation),
    computed: rounded(gauged.computed),
    statedModulus: rounded(gauged.stated),
    modulus: rounded(gauged.corrected),
  };
}

function variantOf({ variant }: ResolvedAppliance): ReportAppliance['variantOf'] {
  return variant === undefined ? null : (variant.base?.text ?? null);
}

function reportYielding(
  yielding: Yielding | undefined,
  design: ApplianceDesign,
  appliance: ResolvedAppliance,
): ReportAppliance['yielding'] {
  if (yielding === undefined) return null;
  const formed = ({ neutral, passiveLoops }: Formed) => ({
    neutral: reportState(neutral, design, appliance),
    loops: reportLoops(passiveLoops, design),
  });
  const { trial } = yielding;
  return {
    stages: yielding.stages,
    first: formed(yielding.first),
    trial: trial
      ? {
          amount: rounded(trial.amount),
          pulled: reportState(trial.pulled, design, appliance),
          ...formed(trial),
          setTurn: rounded((trial.setTurn * 180) / Math.PI),
          largestWithoutSet: trial.largestWithoutSet === undefined ? null : rounded(trial.largestWithoutSet),
        }
      : null,
  };
}

function reportLoops(states: readonly LoopState[], { loops }: ApplianceDesign): ReportState['loops'] {
  return states.map(({ legGap, legAngle }, index) => ({
    name: loops[index].name,
    legGap: rounded(legGap),
    legAngle: rounded((legAngle * 180) / Math.PI),
  }));
}

function stiffnessOf(value: number | undefined): number | null {
  return value === undefined ? null : rounded(value);
}

function reportWire({ alloy, section }: Pick<ApplianceDesign, 'alloy' | 'section'>) {
  return {
    alloy: alloy.name,
    modulus: rounded(alloy.modulus),
    yield: rounded(alloy.yield),
    section: reportSection(section),
  };
}

function reportSection(section: Section): NonNullable<ReportAppliance['wire']>['section'] {
  if (section.kind === 'round') return { kind: 'round', diameter: rounded(section.diameter) };
  return {
    kind: 'rectangle',
    height: rounded(section.height),
    width: rounded(section.width),
    cornerRadius: rounded(section.cornerRadius),
  };
}

/** Only of a wire that is not the same throughout. */
function reportStretches(design: ApplianceDesign): Pick<ReportAppliance, 'stretches'> {
  const found = stretches(design);
  if (!design.elements.some(({ stock }) => stock)) return {};
  return {
    stretches: found.map(({ from, to, stock }) => ({
      ...{ from: rounded(from), to: rounded(to) },
      ...reportWire(stock),
      sideBySide: stock.count,
    })),
  };
}

function reportActivation({ activation, attachments }: ApplianceDesign): ReportAppliance['activation'] {
  if (activation === undefined) return null;
  const { motion } = activation;
  const { axes } = attachments[motion.attachment];
  const way = wayOf(motion, attachments[motion.attachment]);
  const [mesial, gingival, buccal] = way ? applyTransposed(axes, way).map(rounded) : [];
  return {
    kind: motion.kind,
    attachment: attachments[motion.attachment].name,
    direction: way ? { mesial, gingival, buccal } : null,
  };
}

/** In the outer frame; none where the wire is pulled out at one of its ends. */
function wayOf(motion: Motion, { seatedWire }: Attachment): Vec3 | undefined {
  if (motion.kind === 'move') return motion.direction;
  return motion.along && scale(column(seatedWire.axes, 0), motion.along);
}

function reportState(state: EngagedState, design: ApplianceDesign, appliance: ResolvedAppliance): ReportState {
  const { attachments } = design;
  return {
    motion: rounded(state.motion),
    loads: state.wrenches.map((wrench, index) => ({
      ...loadOf(attachments[index].name, wrench),
      ...seatOf(state, design, index),
    })),
    ...pullsOf(state, design, appliance),
    loops: reportLoops(state.loops, design),
    stress: {
      largest: rounded(state.stress),
      elasticUse: rounded(state.elasticUse),
      station: rounded(state.stressStation),
      fibre: state.fibreStress === undefined ? null : rounded(state.fibreStress),
    },
    stable: state.stable,
    residual: { force: magnitude(state.residual.force), moment: magnitude(state.residual.moment) },
    iterations: state.iterations,
  };
}

/** One digit: how far a residual lies below what matters is all that it says. */
function magnitude(value: number): number {
  return Number(value.toPrecision(1));
}

function statusOf(failure: Failure | undefined): ReportStage['status'] {
  return failure?.reason ?? 'converged';
}

function summarise(
  files: readonly {
    readonly unreadable: string | null;
    readonly problems: readonly ReportProblem[];
    readonly silenced: readonly ReportSilenced[];
    readonly appliances: readonly { readonly requirements: readonly ReportRequirement[] }[];
  }[],
): ReportSummary {
  const problems = files.flatMap((file) => file.problems);
  const appliances = files.flatMap((file) => file.appliances);
  const outcomes = appliances.flatMap((appliance) => appliance.requirements.map(({ outcome }) => outcome));
  const count = <T>(items: readonly T[], item: T) => items.filter((one) => one === item).length;
  const severities = problems.map(({ severity }) => severity);
  return {
    files: files.length,
    appliances: appliances.length,
    errors: count(severities, 'error') + files.filter(({ unreadable }) => unreadable !== null).length,
    warnings: count(severities, 'warning'),
    silenced: files.reduce((sum, { silenced }) => sum + silenced.length, 0),
    requirements: {
      met: count(outcomes, 'met'),
      missed: count(outcomes, 'missed'),
      notEvaluable: count(outcomes, 'not-evaluable'),
    },
  };
}

function reportPlay(play: SlotPlay | undefined): ReportAppliance['attachments'][number]['play'] {
  if (play === undefined) return null;
  const deg = (angle: number): number => rounded((angle * 180) / Math.PI);
  return {
    thirdOrder: play.thirdOrder === 'free' ? 'free' : deg(play.thirdOrder),
    secondOrder: play.secondOrder === undefined ? null : deg(play.secondOrder),
  };
}
