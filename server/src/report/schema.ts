/**
 * The contract of `springwright analyze --format json` and `check --format json`. This is its one source: the types
 * below follow from it, and `server/report.schema.json` is generated from it (`reportJsonSchema`).
 *
 * Changes that break a reader raise `schemaVersion`; added fields do not, so readers pass over what they do not know.
 */
import { z } from 'zod';
import { plan } from './plan-schema';
import { toothGroup, visits } from './tooth-response-schema';

export const schemaVersion = 1;

const millimetres = z.number().describe('mm');

const problem = z
  .object({
    code: z.string().describe('Stable kebab-case id of the finding.'),
    severity: z.enum(['error', 'warning', 'information', 'hint']),
    line: z.int().min(1).describe('From 1.'),
    column: z.int().min(1).describe('From 1, in UTF-16 code units.'),
    endLine: z.int().min(1),
    endColumn: z.int().min(1).describe('Column after the last character.'),
    message: z.string(),
    hint: z.string().nullable().describe('How to mend it, where that is not in the message.'),
  })
  .meta({ id: 'problem' });

const silenced = problem
  .extend({ reason: z.string().describe('As the comment that silences it gives, or that a setting switches it off.') })
  .meta({ id: 'silenced', description: 'A finding that is not counted among errors and warnings.' });

const requirement = z
  .object({
    line: z.int().min(1),
    column: z.int().min(1),
    kind: z.enum(['require', 'prefer']).describe('A missed `require` is an error, a missed `prefer` a warning.'),
    stage: z.enum(['at', 'along', 'neutral', 'engaged', 'visits']),
    activation: millimetres.nullable().describe('mm from neutral at which it was decided; null where there is none.'),
    condition: z.string().describe('As written.'),
    outcome: z.enum(['met', 'missed', 'not-evaluable']),
    actual: z
      .string()
      .nullable()
      .describe('Value of the compared side with its unit, forces in N and moments in N mm.'),
    actualValue: z.number().nullable().describe('The same as a plain number in mm, N, s, rad and their products.'),
    expected: z.string().nullable(),
    reason: z.string().nullable().describe('Why it could not be evaluated.'),
    because: z.string().nullable().describe('The reason that the file gives for it.'),
  })
  .meta({ id: 'requirement' });

const force = z
  .object({
    mesial: z.number(),
    distal: z.number(),
    gingival: z.number().describe('Positive: intrudes.'),
    occlusal: z.number().describe('Positive: extrudes.'),
    buccal: z.number(),
    lingual: z.number(),
    total: z.number().min(0),
  })
  .meta({
    id: 'force',
    description:
      'N, of the wire on the tooth. Signed components along mesial, gingival and buccal, and each also under its opposite name.',
  });

const moment = z
  .object({
    mesial: z.number().describe('About the mesial axis by the right-hand rule (upper right quadrant).'),
    gingival: z.number().describe('About the gingival axis.'),
    buccal: z.number().describe('About the buccal axis.'),
    crown_mesial: z.number(),
    crown_distal: z.number(),
    mesial_in: z.number(),
    mesial_out: z.number(),
    crown_buccal: z.number(),
    crown_lingual: z.number(),
    total: z.number().min(0),
  })
  .meta({
    id: 'moment',
    description:
      "N mm, of the wire on the tooth at the slot's centre: components about mesial, gingival and buccal, and signed under the names of what they do.",
  });

const triple = z.object({ mesial: z.number(), gingival: z.number(), buccal: z.number() }).meta({ id: 'triple' });

const bounds = z.object({ force: triple, moment: triple }).meta({ id: 'bounds', description: 'N and N mm.' });

const load = z
  .object({
    attachment: z.string(),
    force,
    moment,
    momentToForce: millimetres
      .nullable()
      .describe('Moment crown-mesial over force distal, mm; null where the force is below 0.01 N.'),
    slid: millimetres
      .optional()
      .describe("Wire that has slid through the attachment in the wire's own direction, mm; absent where none has."),
    inSlot: z
      .object({
        tip: z.number().describe('About buccal, deg.'),
        rotation: z.number().describe('About gingival, deg.'),
        torque: z.number().describe('About mesial, deg.'),
        touching: z
          .object({ height: z.number(), depth: z.number(), torque: z.boolean() })
          .describe(
            "Edges of the slot's height and of its depth that the wire touches, and whether it is wedged in torque.",
          ),
      })
      .optional()
      .describe('With play: by how much the wire stands turned in its slot, which play takes of a bend or twist.'),
    friction: z
      .object({ least: bounds, most: bounds })
      .optional()
      .describe('Least and most that friction lets each component be, where the wire slides with friction.'),
  })
  .meta({ id: 'load' });

const loop = z
  .object({
    name: z.string(),
    legGap: millimetres.describe('Second foot minus first foot along the running direction, mm; negative: crossed.'),
    legAngle: z.number().describe('Angle between the legs, deg; 0: parallel.'),
  })
  .meta({ id: 'loop' });

const state = z
  .object({
    motion: millimetres.describe('Amount of the declared motion, mm.'),
    loads: z.array(load),
    pulls: z
      .array(
        z.object({
          name: z.string().describe('As the file names it, or what it is and between which places.'),
          kind: z.enum(['elastic', 'coil', 'ligature']),
          from: z.string(),
          to: z.string(),
          force: z.number().describe('N; negative where a coil spring pushes, 0 where it is slack.'),
          length: millimetres.describe('Distance between its two places, mm.'),
        }),
      )
      .optional()
      .describe('Elastics, coil springs and ligatures; absent where there are none.'),
    loops: z.array(loop),
    stress: z
      .object({
        largest: z.number().min(0).describe('MPa; nominal where it is past yield.'),
        elasticUse: z.number().min(0),
        station: millimetres.describe('Place along the wire from its start, mm.'),
        fibre: z
          .number()
          .nullable()
          .describe(
            'Largest stress that a fibre bears, yielding included, MPa; null where the wire was not followed past yield.',
          ),
      })
      .meta({ id: 'stress' }),
    stable: z.boolean(),
    residual: z
      .object({ force: z.number().describe('N'), moment: z.number().describe('N mm') })
      .meta({ id: 'residual', description: 'Imbalance left between the attachments.' }),
    iterations: z.int().min(0),
  })
  .meta({ id: 'state' });

const bend = z
  .object({
    kind: z.enum(['bend', 'preactivate', 'helix']),
    line: z.int().min(1).describe("Line of the appliance's own path that it comes from."),
    from: millimetres.describe('Along the wire from its start, mm.'),
    to: millimetres,
    direction: z.string().nullable(),
    angle: z.number().min(0).describe('To be left, deg.'),
    radius: millimetres.describe('To the centre line, to be left, mm.'),
    formedAngle: z.number().min(0).describe('To bend to, deg, so that it springs back to the angle to be left.'),
    formedRadius: millimetres.describe('Radius to the centre line under the plier, mm.'),
    backTo: z.number().nullable().describe('To come back to under load, deg, of a bend that is bent further and back.'),
  })
  .meta({
    id: 'bend',
    description:
      'Springback of one bend, estimated for an elastic, perfectly plastic wire. Sharp corners are left out.',
  });

const status = z
  .enum([
    'converged',
    'no-wire',
    'not-held',
    'activation-not-computed',
    'further-wire',
    'too-many-attachments',
    'span-exceeds-wire',
    'bend-in-slot',
    'wire-end',
    'no-neutral',
    'snaps',
    'not-converged',
  ])
  .meta({ id: 'status', description: 'What the solver came to.' });

const stage = z
  .object({
    activation: millimetres.describe('mm from neutral.'),
    listed: z.boolean().describe('False for a stage solved only because a requirement asks for it.'),
    status,
    state: state.nullable().describe('Null unless converged.'),
    stiffness: z.number().nullable().describe('Force along the motion per mm of it, N/mm; null without activation.'),
  })
  .meta({ id: 'stage' });

const formed = {
  neutral: state.describe('Without force along the motion; the engaged state where there is no activation.'),
  loops: z
    .array(z.object({ name: z.string(), legGap: millimetres, legAngle: z.number().describe('deg') }))
    .describe('In the free wire.'),
};

const yielding = z
  .object({
    stages: z
      .enum(['first', 'after-trial'])
      .describe(
        'Whether the stages are those of the first engagement or those after the trial activation of the file.',
      ),
    first: z.object(formed).describe('As bent, and as first engaged.'),
    trial: z
      .object({
        amount: millimetres.describe(
          'How far it is pulled, mm from the first neutral position; 0 where it is engaged only.',
        ),
        pulled: state,
        ...formed,
        setTurn: z.number().describe('Turn left in the free wire between the first and the last attachment, deg.'),
        largestWithoutSet: millimetres
          .nullable()
          .describe('Largest activation afterwards without further set, mm from the new neutral position.'),
      })
      .nullable()
      .describe('The trial activation of the file; without one, what one to the largest stage would do.'),
  })
  .meta({
    id: 'yielding',
    description: 'A wire that leaves its elastic range or is pulled on trial, with the history of its sections.',
  });

const section = z
  .discriminatedUnion('kind', [
    z.object({
      kind: z.literal('rectangle'),
      height: millimetres,
      width: millimetres,
      cornerRadius: millimetres,
    }),
    z.object({ kind: z.literal('round'), diameter: millimetres }),
  ])
  .meta({ id: 'section' });

const provenance = {
  state: z
    .enum(['found', 'memory', 'practice', 'computed', 'unstated'])
    .describe(
      'How it is known: found in the reference, from memory (to be confirmed there), common practice, computed, or nobody says.',
    ),
  reference: z.string().nullable(),
};

const assumption = z
  .object({
    name: z.string(),
    kind: z.enum(['value', 'tolerance']).describe('A tolerance goes as far either way.'),
    value: z.string().describe('With its unit.'),
    low: z.string().nullable().describe('Ends of the published or usual range.'),
    high: z.string().nullable(),
    ...provenance,
  })
  .meta({ id: 'assumption' });

const band = z
  .object({
    low: z.number(),
    high: z.number(),
    method: z
      .enum(['single-effects', 'sampled'])
      .describe('Root of the sum of squares of the single effects, or sampled wires where these do not add up.'),
    contributions: z
      .array(
        z.object({
          parameter: z.int().min(0).describe('Index in `parameters`.'),
          change: z.number().describe("Half the figure's change over the parameter's range."),
          share: z.number().min(0).max(1).describe("Part of the band's variance."),
        }),
      )
      .describe('The leading ones, most first.'),
  })
  .meta({ id: 'band', description: 'Holds about 19 of 20 wires. In the unit of the figure that it is of.' });

const bandTriple = z.object({ mesial: band, gingival: band, buccal: band }).meta({ id: 'bandTriple' });

const bands = z
  .object({
    activation: millimetres.describe('mm from neutral.'),
    parameters: z
      .array(
        z.object({
          label: z.string(),
          line: z.int().min(1).nullable().describe('Of the path, where it is written there.'),
          low: z.string().describe("Ends of its range, counted from the design's own value."),
          high: z.string(),
          ...provenance,
        }),
      )
      .describe('What scatters, each as if 19 of 20 cases lay within its range.'),
    loads: z.array(z.object({ attachment: z.string(), force: bandTriple, moment: bandTriple })),
    loops: z.array(z.object({ name: z.string(), legGap: band, legAngle: band })),
    neutral: band.nullable(),
    stiffness: band.nullable().describe('N/mm'),
    stress: band,
    elasticUse: band,
    wires: z
      .object({ solved: z.int(), unsolved: z.int() })
      .describe('Wires solved, and varied ones that have no such state and are left out.'),
  })
  .meta({ id: 'bands' });

const variantOf = z
  .string()
  .nullable()
  .describe('The appliance that it is a variant of; null for an appliance itself.');

const auxiliaryOf = z
  .string()
  .nullable()
  .describe('The appliance of which it is a further wire; null for an appliance itself.');

const analysedAppliance = z
  .object({
    name: z.string(),
    variantOf,
    auxiliaryOf,
    auxiliaries: z
      .array(z.object({ name: z.string(), shares: z.array(z.string()) }))
      .describe('Further wires, and the attachments at which loads are of all wires together.'),
    line: z.int().min(1),
    site: z
      .object({
        kind: z.enum(['quadrant', 'arch']),
        arch: z.enum(['upper', 'lower']),
        side: z.enum(['right', 'left']).nullable().describe("The patient's, for a quadrant."),
      })
      .describe('Where it sits; upper right where the file does not say.'),
    wire: z
      .object({
        alloy: z.string(),
        modulus: z.number().describe('MPa'),
        yield: z.number().describe('MPa'),
        section,
      })
      .nullable()
      .describe('Null while something that the wire needs is missing or wrong.'),
    stretches: z
      .array(
        z.object({
          from: millimetres.describe('Along the wire from its start, mm.'),
          to: millimetres,
          alloy: z.string(),
          modulus: z.number().describe('MPa'),
          yield: z.number().describe('MPa'),
          section,
          sideBySide: z.int().min(1).describe('Wires that lie side by side, not joined.'),
        }),
      )
      .optional()
      .describe('What the wire is made of along its length; absent where that is the same throughout.'),
    developedLength: millimetres.nullable().describe('Along the centre line, mm.'),
    cutLength: z
      .object({ length: millimetres, allowancePerEnd: millimetres })
      .nullable()
      .describe('Developed length and an allowance for holding at each end, mm.'),
    attachments: z.array(
      z.object({
        name: z.string(),
        fitting: z.enum(['tube', 'bracket', 'hook', 'eyelet']),
        tooth: z.int().min(11).max(48).nullable().describe('ISO 3950 number, where the file gives one.'),
        station: millimetres.describe('Place of its seat along the wire from its start, mm.'),
        play: z
          .object({
            thirdOrder: z
              .union([z.number(), z.literal('free')])
              .describe('Turn of the wire about itself before it touches, one-sided, deg; "free" where it never does.'),
            secondOrder: z.number().nullable().describe('Tip of the wire before it touches, one-sided, deg.'),
          })
          .nullable()
          .describe('What the slot leaves to the wire. The computation leaves it out unless `withPlay`.'),
        lengthwise: z.enum(['sliding', 'cinched']).optional().describe('Absent where the wire is held lengthwise.'),
        withPlay: z
          .literal(true)
          .optional()
          .describe('The wire touches the edges of the slot instead of being clamped.'),
        friction: z.number().optional().describe('Coefficient of friction where the wire slides.'),
      }),
    ),
    activation: z
      .object({
        kind: z.enum(['pull', 'move']),
        attachment: z.string(),
        direction: z
          .object({ mesial: z.number(), gingival: z.number(), buccal: z.number() })
          .nullable()
          .describe(
            'Unit vector in which the attachment moves, or the wire is pulled through one between two others; null where it is pulled out at the first or the last.',
          ),
      })
      .nullable(),
    status,
    neutral: state.nullable().describe('The state without force along the motion; `motion` says where it is.'),
    stages: z.array(stage),
    gauge: z
      .object({
        force: z.number().describe('As read, N.'),
        activation: millimetres.describe('At which it was read, mm from neutral.'),
        computed: z.number().describe('Of the elastic wire with the modulus that the alloy states, N.'),
        statedModulus: z.number().describe('MPa'),
        modulus: z.number().describe('With which everything is computed, MPa.'),
      })
      .nullable()
      .describe('A reading of force that corrects the modulus; null where there is none, or it is not plausible.'),
    trialActivation: millimetres.nullable().describe('As the file asks, mm from the first neutral position.'),
    yielding: yielding.nullable().describe('Null where the wire stays elastic and no trial activation is asked for.'),
    unfollowed: z
      .string()
      .nullable()
      .describe('Why yielding could not be followed; the states are then those of the elastic wire.'),
    workingActivation: millimetres
      .nullable()
      .describe('That of the first `require at activation`, else the last stage; mm from neutral.'),
    firstYield: millimetres.nullable().describe('Activation at which yield begins, where it lies within the stages.'),
    parallelLegs: z.array(
      z.object({ loop: z.string(), activation: millimetres.nullable() }).meta({ id: 'parallelLegs' }),
    ),
    requirements: z.array(requirement),
    bends: z.array(bend).describe('In the order of the wire.'),
    assumptions: z.array(assumption).describe('What the results rest on besides the shape.'),
    bands: bands.nullable().describe('At the working activation; null where they were not asked for (`--bands`).'),
    groups: z.array(toothGroup).optional().describe('Absent where the file has no groups of teeth.'),
    visits: visits.optional().describe('Absent where the file has no visits, or something that they need is wrong.'),
    plan: plan
      .nullable()
      .optional()
      .describe('Absent where it was not asked for (`--plan`); null where there is no wire.'),
  })
  .meta({ id: 'analysedAppliance' });

const summary = z
  .object({
    files: z.int(),
    appliances: z.int(),
    errors: z.int(),
    warnings: z.int(),
    silenced: z.int().describe('Findings that a comment silences or an option switches off.'),
    requirements: z.object({ met: z.int(), missed: z.int(), notEvaluable: z.int() }),
  })
  .meta({ id: 'summary' });

const common = {
  schemaVersion: z.literal(schemaVersion),
  tool: z.object({ name: z.literal('springwright'), version: z.string() }),
  model: z
    .enum(['full', 'bending-only'])
    .describe('`bending-only` leaves out shear and stretch, for comparison with sources that do.'),
  caution: z.string(),
};

const path = z.string().describe('Relative to the working directory, with forward slashes.');
const unreadable = z.string().nullable().describe('Why the file could not be read; null where it could.');

export const analyzeReport = z
  .object({
    ...common,
    command: z.literal('analyze'),
    files: z.array(
      z.object({
        path,
        unreadable,
        problems: z.array(problem),
        silenced: z.array(silenced),
        appliances: z.array(analysedAppliance),
      }),
    ),
    summary,
  })
  .meta({ id: 'analyzeReport' });

export const checkReport = z
  .object({
    ...common,
    command: z.literal('check'),
    files: z.array(
      z.object({
        path,
        unreadable,
        problems: z.array(problem),
        silenced: z.array(silenced),
        appliances: z.array(
          z.object({
            name: z.string(),
            variantOf,
            auxiliaryOf,
            line: z.int().min(1),
            requirements: z.array(requirement),
          }),
        ),
      }),
    ),
    summary,
  })
  .meta({ id: 'checkReport' });

export type AnalyzeReport = z.infer<typeof analyzeReport>;
export type CheckReport = z.infer<typeof checkReport>;
export type ReportProblem = z.infer<typeof problem>;
export type ReportSilenced = z.infer<typeof silenced>;
export type ReportRequirement = z.infer<typeof requirement>;
export type ReportAppliance = z.infer<typeof analysedAppliance>;
export type ReportStage = z.infer<typeof stage>;
export type ReportState = z.infer<typeof state>;
export type ReportBend = z.infer<typeof bend>;
export type ReportAssumption = z.infer<typeof assumption>;
export type ReportBand = z.infer<typeof band>;
export type ReportBands = z.infer<typeof bands>;
export type ReportSummary = z.infer<typeof summary>;

/** JSON Schema (draft 2020-12) of what the command line prints. */
export function reportJsonSchema(): unknown {
  return {
    ...z.toJSONSchema(z.discriminatedUnion('command', [analyzeReport, checkReport])),
    title: 'Springwright report',
    description:
      'Output of `springwright analyze --format json` and `springwright check --format json`. Lengths in mm, forces in N, moments in N mm, stresses in MPa, angles in deg.',
  };
}
