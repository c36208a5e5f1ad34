/** Texts that several tests start from; scenarios of our own. */

/** A V bend between two attachments, with every kind of line. Sharp corners, so that lengths add up by hand. */
export const vBend = `use "alloys"

/// A span with an off-centre V bend.
appliance v_bend {
  wire 0.016 in x 0.022 in of beta_titanium

  param arm = 5 mm in 4 mm .. 8 mm
  param angle = 20 deg in 0 deg .. 30 deg
  let far = 20 mm - arm

  path running mesial {
    straight 4 mm
    seat molar
    straight arm
    preactivate angle toward gingival radius 0 mm
    straight far
    seat canine
    straight 2 mm
  }

  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm

  require when engaged {
    canine.force.gingival >= 0 N
    canine.force.occlusal >= 0.1 N because "it has to fail here"
  }
}
`;

/** A gabled open loop that is pulled through the molar tube. */
export const loop = `use "alloys"

/// An open vertical loop.
part vertical(height = 7 mm in 4 mm .. 10 mm, width = 2 mm) {
  bend 90 deg toward gingival radius 0 mm
  foot
  straight height - width / 2
  bend 90 deg toward mesial radius width / 2
  bend 90 deg toward occlusal radius width / 2
  straight height - width / 2
  foot
  bend 90 deg toward mesial radius 0 mm
}

appliance closing {
  wire 0.017 in x 0.025 in of beta_titanium

  param gable = 15 deg in 0 deg .. 30 deg

  path running mesial {
    straight 6 mm
    seat molar
    straight 7 mm
    preactivate gable toward gingival
    vertical(height = 8 mm) as loop
    preactivate gable toward gingival
    straight 7 mm
    seat canine
    straight 3 mm
  }

  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm

  activation pull through molar 0 mm .. 2 mm step 0.5 mm

  require at activation 1 mm {
    canine.force.distal >= 0.1 N
    loop.leg_gap >= 0 mm
  }
}
`;
