/** Names of results in requirement expressions, and what they stand for. */

export interface ResultName {
  readonly name: string;
  readonly meaning: string;
}

export type ResultOwner = 'attachment' | 'wire' | 'loop' | 'activation';

/** What may follow the dot after each kind of owner. */
export const resultNames: Readonly<Record<ResultOwner, readonly ResultName[]>> = {
  attachment: [
    { name: 'force', meaning: 'Force of the wire on the tooth.' },
    { name: 'moment', meaning: 'Moment of the wire on the tooth, at the slot’s centre.' },
  ],
  wire: [
    { name: 'stress', meaning: 'Largest elastic fibre stress in the wire, by von Mises; nominal once past yield.' },
    { name: 'yield', meaning: 'Yield strength of the alloy.' },
    { name: 'elastic_use', meaning: 'Largest stress over yield strength.' },
    { name: 'developed_length', meaning: 'Length of the whole wire along its centre line.' },
    { name: 'stress_station', meaning: 'Where along the wire the stress is largest, from its start.' },
  ],
  loop: [
    {
      name: 'leg_gap',
      meaning: 'Second foot minus first foot along the running direction, centre lines; negative where the legs cross.',
    },
    {
      name: 'leg_angle',
      meaning: 'Angle between the legs at their feet, in the loop’s plane; 0 deg where they are parallel.',
    },
  ],
  activation: [
    { name: 'amount', meaning: 'Activation, from neutral.' },
    { name: 'motion', meaning: 'Amount of the declared motion, from the appliance as seated.' },
    { name: 'neutral', meaning: 'Amount of the motion at which the wire does not pull along it.' },
  ],
};

/** Components of a force and of a moment; opposite names are the same component with its sign changed. */
export const componentNames: Readonly<Record<'force' | 'moment', readonly ResultName[]>> = {
  force: [
    { name: 'mesial', meaning: 'Pulls the tooth mesially.' },
    { name: 'distal', meaning: 'Pulls the tooth distally.' },
    { name: 'gingival', meaning: 'Intrudes.' },
    { name: 'occlusal', meaning: 'Extrudes.' },
    { name: 'buccal', meaning: 'Moves the tooth buccally.' },
    { name: 'lingual', meaning: 'Moves the tooth lingually.' },
    { name: 'total', meaning: 'Size of the whole force.' },
  ],
  moment: [
    { name: 'crown_mesial', meaning: 'Tips the crown mesially (about the buccal axis).' },
    { name: 'crown_distal', meaning: 'Tips the crown distally (about the buccal axis).' },
    { name: 'mesial_in', meaning: 'Turns the mesial side toward the tongue (about the long axis).' },
    { name: 'mesial_out', meaning: 'Turns the mesial side toward the cheek (about the long axis).' },
    { name: 'crown_buccal', meaning: 'Torques the crown buccally (about the mesial axis).' },
    { name: 'crown_lingual', meaning: 'Torques the crown lingually (about the mesial axis).' },
    { name: 'total', meaning: 'Size of the whole moment.' },
  ],
};
