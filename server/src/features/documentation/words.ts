/** What each word of the language means, for hover and completion: first how it is written, then what it does. */

export interface WordDocumentation {
  /** How it is written, in the language. */
  readonly form: string;
  /** One or two sentences of Markdown. */
  readonly meaning: string;
}

/** By keyword; the clause words of an attachment have their own meanings, see `clauseDocumentation`. */
export const wordDocumentation: Readonly<Record<string, WordDocumentation>> = {
  use: {
    form: 'use "alloys"',
    meaning: 'Brings in the names of a bundled module, or of a file beside this one (`use "./parts/loops.spring"`).',
  },
  let: { form: 'let arm = height - 2 mm', meaning: 'Names a value.' },
  alloy: {
    form: 'alloy name { modulus = 66 GPa … }',
    meaning: 'Describes what a wire is made of; each figure can carry its source.',
  },
  section: {
    form: 'section name = 0.017 in x 0.025 in',
    meaning:
      'Names a wire size: height (along the slot’s height) × width, or `round` and a diameter. As a step of a path, `section SIZE of ALLOY`: what the wire is from here on; the alloy may be left out where it stays the same.',
  },
  slot: { form: 'slot name = 0.022 in x 0.028 in', meaning: 'Names a slot size: height × depth.' },
  part: {
    form: 'part name(height = 7 mm in 4 mm .. 12 mm) { … }',
    meaning: 'A piece of wire that can be used again. It is written as if the wire ran mesially with gingival up.',
  },
  appliance: {
    form: 'appliance name on upper left { … }',
    meaning:
      'One wire with its attachments, its activation and what it must achieve. `on upper left` says on which quadrant it sits, `in upper arch` that it goes over the whole arch; where nothing is said it sits on the upper right.',
  },
  on: {
    form: 'on upper left',
    meaning: 'The quadrant on which the appliance sits (left and right are the patient’s), or an attachment’s tooth.',
  },
  upper: { form: 'on upper left', meaning: 'Of the upper arch.' },
  lower: { form: 'on lower left', meaning: 'Of the lower arch.' },
  tooth: { form: 'on tooth 16', meaning: 'A tooth by its ISO 3950 number: quadrant, then place from the midline.' },
  teeth: {
    form: 'bracket on teeth 15 .. 25',
    meaning:
      'Several teeth, one attachment on each, named `tooth_15` and so on; `seat teeth` seats them along an arch form.',
  },
  follow: {
    form: 'follow beta_arch(width = 55 mm, depth = 40 mm) from 47 mm right to 47 mm left { seat teeth }',
    meaning:
      'Lays the wire along an arch form, `beta_arch` or `catenary_arch`, from one place to another, counted along it from the midline. Off the slots, which hold the wire straight, it lies within 0.01 mm of the form; beside a slot two arcs lead back to it.',
  },
  facing: { form: 'tube sheath facing right', meaning: 'In a whole arch: where buccal points at an attachment.' },
  from: {
    form: 'from 47 mm right to 47 mm left',
    meaning: 'Where it begins; of an elastic, a coil spring or a ligature the attachment or mark at one end.',
  },
  to: {
    form: 'from 47 mm right to 47 mm left',
    meaning: 'Where it ends; of an elastic, a coil spring or a ligature the attachment or mark at the other end.',
  },
  beta_arch: {
    form: 'beta_arch(width = 55 mm, depth = 40 mm)',
    meaning: 'Arch form by the beta function: y = 3.0314 D (x/W + 1/2)^0.8 (1/2 - x/W)^0.8.',
  },
  catenary_arch: {
    form: 'catenary_arch(width = 50 mm, depth = 35 mm)',
    meaning: 'Arch form of a hanging chain, as wide and as deep as given.',
  },
  variant: {
    form: 'variant light of closing_loop { loop_height = 10 mm }',
    meaning:
      'The appliance of that name with other values of some of its parameters: the same path, attachments, activation and requirements, computed by itself.',
  },
  auxiliary: {
    form: 'auxiliary tip_back of retraction at molar 3 mm gingival { … }',
    meaning:
      'A further wire of that appliance, with a path and attachments of its own. Its first seat stands where `at` says; teeth with an attachment of the same name feel all wires, and `tip_back.molar.force.occlusal` is its share there.',
  },
  wire: {
    form: 'wire 0.017 in x 0.025 in of beta_titanium',
    meaning:
      'Size and alloy of the wire. The first number stands along the slot’s height, unless it says `ribbonwise`.',
  },
  of: { form: 'wire … of beta_titanium', meaning: 'Names the alloy.' },
  stress: {
    form: 'wire … of steel stress relieved',
    meaning: 'Heated after bending, as its maker says: the bends keep no stress of their forming.',
  },
  relieved: {
    form: 'wire … of steel stress relieved',
    meaning: 'Heated after bending, as its maker says: the bends keep no stress of their forming.',
  },
  round: { form: 'wire round 0.016 in of steel', meaning: 'A round wire of this diameter.' },
  doubled: {
    form: 'section round 0.016 in doubled',
    meaning: 'From here on two such wires lie side by side along their width, not joined: each bears half.',
  },
  ribbonwise: {
    form: 'wire 0.017 in x 0.025 in ribbonwise of steel',
    meaning: 'The wire lies flat in the slot: height and width change places.',
  },
  corner: { form: 'corner 0.04 mm', meaning: 'Radius of the section’s rounded edges.' },
  x: { form: '0.017 in x 0.025 in', meaning: 'Stands between the two sizes of a section or a slot.' },
  param: {
    form: 'param gable = 15 deg in 0 deg .. 30 deg',
    meaning: 'A value that may be varied, with its default and the range it may take.',
  },
  in: {
    form: 'value in low .. high',
    meaning: 'Lies in a range, both ends included. Directly after a number, `in` is the inch.',
  },
  path: { form: 'path running mesial { … }', meaning: 'The wire from its start to its end, step by step.' },
  running: { form: 'path running mesial', meaning: 'The direction in which the wire sets out.' },
  straight: { form: 'straight 8 mm', meaning: 'A straight piece of wire.' },
  bend: {
    form: 'bend 90 deg toward gingival radius 1 mm',
    meaning:
      'A shape bend: draws the appliance as it lies in place. The radius is to the centre line; without one, the smallest usual for the alloy and the thickness in the plane of the bend.',
  },
  preactivate: {
    form: 'preactivate 20 deg toward gingival',
    meaning:
      'A bend that the attachments will straighten out again: gable, V bend, tip-back, anti-rotation. The direction is the one in the nominal shape; everything after the bend is turned with it.',
  },
  toward: { form: 'bend 90 deg toward gingival', meaning: 'The direction to which the wire turns.' },
  radius: {
    form: 'bend 90 deg toward gingival radius 1 mm',
    meaning: 'Bend radius to the centre line; `radius 0 mm` is a sharp corner.',
  },
  back: {
    form: 'bend 90 deg toward gingival back from 105 deg',
    meaning:
      'Bent to that angle first and then back, so that the last sense of the bend is the other one: opened, it then yields late.',
  },
  twist: {
    form: 'twist 10 deg over 3 mm',
    meaning: 'Preactivation about the wire’s own axis (third order, torque), spread over a length.',
  },
  helix: {
    form: 'helix 2 turns diameter 3 mm toward gingival',
    meaning:
      'Winds turns toward the direction, as a bend would, and stacks them beside each other. More wire in one place makes a spring softer.',
  },
  turns: {
    form: 'helix 1.5 turns diameter 3 mm toward gingival',
    meaning: 'How often the wire winds round; also `turn`.',
  },
  turn: {
    form: 'helix 1 turn diameter 3 mm toward gingival',
    meaning: 'How often the wire winds round; also `turns`.',
  },
  diameter: {
    form: 'helix 2 turns diameter 3 mm toward gingival',
    meaning: 'Mean diameter of the helix, centre line to centre line.',
  },
  pitch: {
    form: 'helix 2 turns diameter 3 mm toward gingival pitch 0.6 mm',
    meaning:
      'From turn to turn along the helix. Without it the coils lie beside each other; a negative pitch stacks them to the other side, and 0 mm lays them into one plane, as formulas do.',
  },
  over: { form: 'twist 10 deg over 3 mm', meaning: 'The length over which the twist is spread.' },
  seat: { form: 'seat molar', meaning: 'This point of the wire sits at the middle of the attachment’s slot.' },
  mark: { form: 'mark centre', meaning: 'Names this point of the wire.' },
  foot: {
    form: 'foot',
    meaning:
      'A leg of a loop stands here, at the inner end of its base bend. A part with exactly two feet has a leg gap and a leg angle.',
  },
  flip: {
    form: 'flip open_loop()',
    meaning: 'Places the part turned by half a turn about the wire: up becomes down and side changes.',
  },
  mirror: { form: 'mirror open_loop()', meaning: 'Places the part as its mirror image: the side is reversed.' },
  as: { form: 'open_loop() as first', meaning: 'Gives the placed part a name of its own, for its read-outs.' },
  repeat: { form: 'repeat 3 { … }', meaning: 'The steps inside, this many times.' },
  tube: {
    form: 'tube molar slot 0.022 in x 0.028 in, length 4 mm',
    meaning: 'Holds the wire straight over its length.',
  },
  bracket: {
    form: 'bracket canine slot 0.022 in x 0.028 in, width 3 mm',
    meaning: 'Holds the wire straight over its width.',
  },
  hook: {
    form: 'hook incisor at 25 mm mesial',
    meaning:
      'Holds a point of the wire and gives no moment; it gives no force along its own mesial axis unless it is `tied`.',
  },
  eyelet: {
    form: 'eyelet incisor at 25 mm mesial',
    meaning:
      'Holds a point of the wire and gives no moment; it gives no force along its own mesial axis unless it is `tied`.',
  },
  elastic: {
    form: 'elastic from canine to molar force 150 gf',
    meaning:
      'Pulls two attachments or marks together, with a constant `force` or with a `rate` beyond its length at `rest`. Slack where it is not stretched.',
  },
  coil: {
    form: 'coil from hook_mark to molar rate 0.4 N/mm rest 8 mm',
    meaning:
      'A coil spring between two attachments or marks: it pulls them together where it is longer than at `rest`, and pushes them apart where it is shorter.',
  },
  ligature: {
    form: 'ligature from canine to premolar force 50 gf',
    meaning: 'A ligature that pulls two attachments or marks together. Slack where it is not stretched.',
  },
  force: { form: 'elastic from canine to molar force 150 gf', meaning: 'How hard it pulls, however long it is.' },
  rate: {
    form: 'coil from canine to molar rate 0.4 N/mm rest 8 mm',
    meaning:
      'Force for each length by which it is stretched beyond its length at rest. Of visits, how fast a tooth moves whose root bears as much as an upper canine’s under 100 gf, with the range that it may lie in.',
  },
  rest: { form: 'rate 0.4 N/mm rest 8 mm', meaning: 'Its length without force.' },
  play: {
    form: 'with play',
    meaning: 'The wire lies loose in its slot until it touches the edges.',
  },
  activation: {
    form: 'activation pull through molar 0 mm .. 3 mm step 0.5 mm',
    meaning:
      'How the appliance is activated, and the stages at which it is computed. Stages count from neutral, where the wire does not pull along the activation.',
  },
  group: {
    form: 'group anchor of molar and premolar, on teeth 15 .. 17',
    meaning:
      'Teeth that move as one: the attachments through which the wire reaches them, which teeth they are, and where their centre of resistance lies. What the wire does to them is told there.',
  },
  resistance: {
    form: 'resistance 8 mm gingival 1 mm lingual from molar',
    meaning:
      'Where the centre of resistance lies, from an attachment as it stands. Left out, it is estimated from the bundled tooth data: the mean of the teeth’s own centres by the surfaces of their roots.',
  },
  root: {
    form: 'root 13 mm',
    meaning:
      'Length of the roots of the group. Left out, the mean of the bundled tooth data by the surfaces of the roots.',
  },
  both: {
    form: 'both sides',
    meaning:
      'The group is tied to the same teeth of the other side, on which the mirror image of the wire acts: it moves neither sidewise nor turns about the other two axes. Figures are of one side.',
  },
  sides: { form: 'both sides', meaning: 'The group is tied to the same teeth of the other side.' },
  visits: {
    form: 'visits every 6 weeks, close 6 mm between canine and molar, activate 2 mm',
    meaning:
      'How the appliance is used over time. The groups of teeth are followed as they move, the wire as it loses its activation, from visit to visit. An estimate for planning: rates differ from person to person.',
  },
  every: { form: 'every 6 weeks', meaning: 'The time from visit to visit.' },
  close: {
    form: 'close 6 mm between canine and molar',
    meaning: 'By how much two attachments are to come nearer to each other; then it is over.',
  },
  between: { form: 'close 6 mm between canine and molar', meaning: 'The two attachments on either side of the space.' },
  activate: {
    form: 'activate 2 mm',
    meaning:
      'How far the wire is activated from neutral at the first visit, and again whenever it is reactivated: it is drawn through the tube that `activation pull through` names, and cinched.',
  },
  reactivate: {
    form: 'reactivate when canine.force.distal < 80 gf or loop.leg_gap < 0.5 mm',
    meaning: 'When the wire is activated again at a visit. Left out, at every visit.',
  },
  within: { form: 'within 40 weeks', meaning: 'How long the visits go on at most; three years where nothing is said.' },
  trial: {
    form: 'trial activation 3 mm',
    meaning:
      'The spring is pulled once to this activation and let go before it is engaged for good: it takes its set then and keeps its shape afterwards. Stages count from the neutral position found after it.',
  },
  pull: {
    form: 'activation pull through molar',
    meaning:
      'The wire is drawn through the attachment and held there: that arm gets shorter. Between two others say to which side, `pull through premolar toward distal`: the span there gets what the other loses.',
  },
  through: { form: 'pull through molar', meaning: 'The attachment through which the wire is drawn.' },
  move: {
    form: 'activation move canine distal',
    meaning:
      'The attachment moves, with the wire held in it. Teeth that move as the spring works are this, not a pull.',
  },
  step: { form: '0 mm .. 3 mm step 0.5 mm', meaning: 'Distance from stage to stage.' },
  gauge: {
    form: 'gauge 1.6 N at activation 2 mm',
    meaning:
      'A force gauge, held at the attachment that is moved or pulled, shows this force at this activation from neutral. The modulus of the alloy is corrected so that the elastic wire gives it; everything else follows.',
  },
  require: {
    form: 'require at activation 1.5 mm { … }',
    meaning:
      'What the design must achieve. A condition that is missed is an error, in the editor and on the command line.',
  },
  prefer: {
    form: 'prefer at activation 1.5 mm { … }',
    meaning: 'What the design should achieve. A condition that is missed is a warning.',
  },
  along: { form: 'require along activation { … }', meaning: 'The conditions hold at every stage of the activation.' },
  neutral: {
    form: 'require at neutral { … }',
    meaning: 'The position in which the attachments hold the wire and it does not pull along the activation.',
  },
  when: {
    form: 'require when engaged { … }',
    meaning: 'For appliances without an activation: the wire seated in its attachments.',
  },
  engaged: { form: 'require when engaged { … }', meaning: 'Seated in the attachments.' },
  because: {
    form: 'canine.force.distal <= 150 gf because "…"',
    meaning: 'Says why the condition is asked for; shown where it is missed.',
  },
  source: {
    form: 'source found "…"',
    meaning: 'Where a figure comes from: `found` in a reference, from `memory`, common `practice`, or `computed`.',
  },
  found: { form: 'source found "reference"', meaning: 'Read in the reference that follows.' },
  memory: {
    form: 'source memory "reference"',
    meaning: 'From memory: check it against a reference before relying on it.',
  },
  practice: { form: 'source practice', meaning: 'Common practice of the trade, without a source.' },
  computed: { form: 'source computed', meaning: 'Computed from other figures.' },
  and: { form: 'a and b', meaning: 'Both hold.' },
  or: { form: 'a or b', meaning: 'At least one holds.' },
  not: { form: 'not a', meaning: 'Does not hold.' },
};

/** Words that begin a clause of an attachment, and what they mean there. */
export const clauseDocumentation: Readonly<Record<string, WordDocumentation>> = {
  on: {
    form: 'on tooth 16',
    meaning:
      'The tooth that it is on (ISO 3950). It has to stand where the appliance sits, and in a whole arch tells which way mesial and buccal point. `on teeth 15 .. 25` stands for one attachment on each.',
  },
  facing: {
    form: 'facing right',
    meaning: 'In a whole arch: where buccal points at this attachment, left, right or anterior.',
  },
  slot: { form: 'slot 0.022 in x 0.028 in', meaning: 'Size of the slot, height × depth, or the name of a `slot`.' },
  length: { form: 'length 4 mm', meaning: 'How much wire the tube holds straight.' },
  width: { form: 'width 3 mm', meaning: 'How much wire the bracket holds straight.' },
  at: {
    form: 'at 23 mm mesial 1 mm gingival',
    meaning: 'Where the attachment stands, counted from the first seat’s nominal place.',
  },
  moved: { form: 'moved 0.5 mm gingival', meaning: 'How far the attachment stands from its seat’s nominal place.' },
  tip: { form: 'tip 5 deg', meaning: 'Turns the slot about the buccal axis (second order), by the right-hand rule.' },
  rotation: {
    form: 'rotation 5 deg',
    meaning: 'Turns the slot about the gingival axis (first order), by the right-hand rule.',
  },
  torque: {
    form: 'torque 5 deg',
    meaning: 'Turns the slot about the mesial axis (third order), by the right-hand rule.',
  },
  tied: { form: 'tied', meaning: 'A hook or eyelet that holds the wire along its mesial axis too.' },
  sliding: {
    form: 'sliding',
    meaning:
      'Through a tube or bracket the wire slides without friction, or with as much as `friction` says. At a hook or eyelet the contact stays where the hook is while the wire slides along.',
  },
  cinched: {
    form: 'cinched',
    meaning:
      'The wire’s end is turned over behind its first or last attachment: it may slide back out of the free span, but not into it.',
  },
  with: {
    form: 'with play',
    meaning:
      'The wire is not clamped but touches the four edges of the slot, on one side or on both: what it is turned before that, play takes. Needs `slot` and a `length` or `width`.',
  },
  friction: {
    form: 'friction 0.15',
    meaning: 'Coefficient of friction, from 0 to below 2, where the wire slides. It bounds the force of sliding.',
  },
};

export const directionDocumentation: Readonly<Record<string, string>> = {
  mesial: 'Toward the middle line along the arch.',
  distal: 'Away from the middle line along the arch.',
  gingival: 'Toward the gum; a force that way intrudes.',
  occlusal: 'Toward the biting surface; a force that way extrudes.',
  buccal: 'Toward the cheek or lip.',
  lingual: 'Toward the tongue.',
  anterior: 'Toward the front, in a whole arch.',
  posterior: 'Toward the back, in a whole arch.',
  left: 'Toward the patient’s left, in a whole arch.',
  right: 'Toward the patient’s right, in a whole arch.',
};

export const functionDocumentation: Readonly<Record<string, WordDocumentation>> = {
  min: { form: 'min(a, b)', meaning: 'The smallest of its arguments, which have one dimension.' },
  max: { form: 'max(a, b)', meaning: 'The largest of its arguments, which have one dimension.' },
  abs: { form: 'abs(a)', meaning: 'The value without its sign.' },
  sqrt: { form: 'sqrt(a)', meaning: 'The square root; of an area, a length.' },
  sin: { form: 'sin(angle)', meaning: 'The sine of an angle.' },
  cos: { form: 'cos(angle)', meaning: 'The cosine of an angle.' },
  tan: { form: 'tan(angle)', meaning: 'The tangent of an angle.' },
  asin: { form: 'asin(ratio)', meaning: 'The angle whose sine this is.' },
  acos: { form: 'acos(ratio)', meaning: 'The angle whose cosine this is.' },
  atan: { form: 'atan(ratio)', meaning: 'The angle whose tangent this is.' },
  arc: { form: 'arc(radius, angle)', meaning: 'The length of an arc: radius × angle.' },
};
