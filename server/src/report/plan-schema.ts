/** The bending plan in the JSON contract. */
import { z } from 'zod';

const millimetres = z.number().describe('mm');
const degrees = z.number().describe('deg');

const plannedBend = z
  .object({
    number: z.int().min(1).describe('Along the wire, from its start.'),
    kind: z.enum(['bend', 'helix', 'twist']),
    preactivation: z.boolean().describe('Bent last, for what it does when the appliance is engaged.'),
    follows: z.boolean().describe('An arc of an arch form that the wire follows.'),
    line: z.int().min(1).nullable(),
    direction: z.string().nullable().describe('Direction word as written.'),
    fromEnd: millimetres.describe("Where it begins on the straight wire, from the cut end by the wire's start, mm."),
    fromMiddle: millimetres.describe('The same from the middle of the cut wire, mm; negative toward the start.'),
    before: millimetres.describe('Straight wire before it, from the end of the bend before or from the cut end, mm.'),
    roll: degrees.describe('Turn of the wire about its own axis before it, deg; clockwise as seen along the wire.'),
    angle: degrees.describe(
      'To be left, deg; positive: up, negative: down. Of a twist: of the wire beyond, clockwise as seen along the wire. Of a helix: all its turns.',
    ),
    radius: millimetres.nullable().describe('To the centre line, mm; 0: a sharp corner; null for a twist.'),
    innerRadius: millimetres.nullable().describe('Inside of the bend, mm.'),
    pitch: millimetres.describe('Of a helix, mm from turn to turn; positive: right-handed.'),
    length: millimetres.describe('Wire that it takes, mm.'),
    toNext: millimetres.describe('Straight wire to the next bend, between tangent points, or to the cut end, mm.'),
    load: z
      .object({
        angle: degrees,
        innerRadius: millimetres,
        back: degrees.nullable().describe('To come back to under load, deg, of a bend that is bent further and back.'),
      })
      .nullable()
      .describe('To bend to, so that it springs back to the angle to be left (estimate); null for twists and corners.'),
  })
  .meta({ id: 'plannedBend' });

export const plan = z
  .object({
    cutLength: millimetres.describe('With the holding at both ends, mm.'),
    holding: millimetres.describe('Wire to hold it by at each end, mm (common practice).'),
    beakWidth: millimetres.describe("Of the plier's beaks, mm (common practice, no source)."),
    lengthStep: millimetres.describe('To which lengths of the table are rounded, mm.'),
    angleStep: degrees.describe('To which its angles are rounded, deg.'),
    deviation: z
      .object({ distance: millimetres, angle: degrees })
      .describe('How far a wire bent exactly by the rounded table is off the passive shape at most, mm and deg.'),
    lead: millimetres.describe('From the cut end to the first bend, mm.'),
    bends: z.array(plannedBend),
    order: z
      .array(
        z.object({
          stage: z.enum(['shape', 'preactivation']),
          from: z.enum(['loop', 'helix', 'middle']).describe('What the work starts from, outward.'),
          loop: z.string().nullable(),
          fromEnd: millimetres.describe('Of its middle on the straight wire, mm from the cut end.'),
          bends: z.array(z.int().min(1)).describe('In the order in which they are made.'),
        }),
      )
      .describe('Of work.'),
    trialActivation: millimetres.nullable().describe('At the end, mm from neutral; null where nothing is activated.'),
    warnings: z.array(
      z.discriminatedUnion('kind', [
        z.object({
          kind: z.literal('close'),
          bends: z.array(z.int().min(1)),
          straight: millimetres.describe('Between the two, mm.'),
        }),
        z.object({
          kind: z.literal('opened'),
          bends: z.array(z.int().min(1)),
          by: degrees.describe('By how much the activation opens it, deg.'),
          activation: millimetres,
        }),
      ]),
    ),
  })
  .meta({
    id: 'bendingPlan',
    description: 'How to bend it from a straight wire. Sides are the real ones, not mirrored.',
  });

export type ReportPlan = z.infer<typeof plan>;
export type ReportPlannedBend = ReportPlan['bends'][number];
