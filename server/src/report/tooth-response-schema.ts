/** Groups of teeth and visits in the public contract. */
import { z } from 'zod';

const millimetres = z.number();
const triple = z.object({ mesial: z.number(), gingival: z.number(), buccal: z.number() });
const turns = z
  .object({
    tip: z.number().describe('About buccal, positive crown-mesial.'),
    rotation: z.number().describe('About gingival, positive mesial-in.'),
    torque: z.number().describe('About mesial, positive crown-lingual.'),
  })
  .meta({ id: 'turns', description: 'deg' });

const movement = z
  .object({
    words: z.string().describe('What the group does in this plane, with the distance of the line of action.'),
    lineOfAction: millimetres
      .nullable()
      .describe(
        'Of the pull, occlusal of the centre of resistance, mm: 0 is translation; null for a pure couple. Equal to the moment-to-force ratio there.',
      ),
    rotationCentre: millimetres
      .nullable()
      .describe('Apical of the centre of resistance, mm; null for translation, or where the roots are not known.'),
    rotationRange: z
      .tuple([millimetres, millimetres])
      .nullable()
      .describe('Of the same, between the outlines that a root may have.'),
  })
  .meta({ id: 'movement' });

export const toothGroup = z
  .object({
    name: z.string(),
    attachments: z.array(z.string()),
    teeth: z.array(z.int()).describe('ISO 3950 numbers, of this side.'),
    bothSides: z.boolean().describe('Tied to its mirror image on the other side; figures are of one side.'),
    resistance: z
      .object({ known: z.enum(['given', 'estimated']), mesial: z.number(), gingival: z.number(), buccal: z.number() })
      .describe('Centre of resistance from the group’s first attachment, mm.'),
    rootLength: millimetres.nullable().describe('mm'),
    rootSurface: z.number().nullable().describe('mm²'),
    force: triple.nullable().describe('On the whole group at the working activation, N.'),
    moment: triple.nullable().describe('About its centre of resistance, N mm; signs as of `moment`.'),
    along: movement.nullable().describe('Along the arch; null where nothing acts there.'),
    across: movement.nullable().describe('Across the arch.'),
    rootPressure: z.number().nullable().describe('Mean load of the roots’ surface, kPa.'),
    closureShare: z
      .number()
      .nullable()
      .describe('Part of a closure between two groups by the surfaces of their roots alone.'),
    reinforced: z
      .object({ tooth: z.int(), closureShare: z.number() })
      .nullable()
      .describe('The same with one more tooth tied into this group.'),
  })
  .meta({ id: 'toothGroup' });

const placeOfGroup = z
  .object({
    name: z.string(),
    moved: triple.describe('Of the centre of resistance since the start, mm.'),
    crownMoved: triple.describe('Of the group’s first attachment, mm.'),
    turned: turns,
  })
  .meta({ id: 'placeOfGroup' });

const reading = z
  .object({
    activation: millimetres.describe('What is left of it, mm.'),
    motion: millimetres.describe('How far the wire is drawn, mm.'),
    closed: millimetres.describe('By how much the space has closed, mm.'),
    loops: z.array(z.object({ name: z.string(), legGap: millimetres, legAngle: z.number().describe('deg') })),
    groups: z.array(
      z.object({
        name: z.string(),
        force: triple.describe('N'),
        moment: triple.describe('At the centre of resistance, N mm.'),
        lineOfAction: millimetres.nullable(),
      }),
    ),
    places: z.array(placeOfGroup),
  })
  .meta({ id: 'visitReading' });

const course = z
  .object({
    rate: z.enum(['usual', 'slow', 'fast', 'friction']),
    millimetresPerMonth: z.number(),
    weeks: z.number(),
    reactivations: z.int(),
    end: z.enum(['closed', 'time-is-up', 'not-reactivated', 'too-fast', 'no-equilibrium']),
    groups: z.array(placeOfGroup).describe('At the end.'),
  })
  .meta({ id: 'course' });

export const visits = z
  .object({
    everyWeeks: z.number(),
    activate: millimetres.nullable(),
    close: z.object({ amount: millimetres, between: z.tuple([z.string(), z.string()]) }).nullable(),
    status: z.string().describe('`followed`, or why nothing is known.'),
    visits: z.array(
      z.object({
        week: z.number(),
        done: z.enum(['engaged', 'activated', 'reactivated', 'left', 'ended']),
        found: reading.describe('As found at the visit.'),
        left: reading.describe('As left.'),
      }),
    ),
    courses: z
      .array(course)
      .describe('The usual one, at the ends of the range of rates, and with friction at its bound.'),
  })
  .meta({ id: 'visits' });

export type ReportToothGroup = z.infer<typeof toothGroup>;
export type ReportVisits = z.infer<typeof visits>;
