/** The language note's example, word for word but for the module that it does not have. */
export const CLOSING_SECTION = `use "alloys"
use "loops"

/// Closes an upper space: brings the front teeth back and up against the molar.
appliance closing_section {
  wire 0.017 in x 0.025 in of beta_titanium

  param loop_height = 9 mm   in 6 mm .. 10 mm
  param gable       = 15 deg in 0 deg .. 30 deg
  param tip_back    = 22 deg in 0 deg .. 30 deg

  path running mesial {
    straight 8 mm
    seat molar
    straight 5.5 mm
    preactivate tip_back toward gingival     // off-centre V bend: tips the molar back, lifts the front
    preactivate 8 deg toward lingual         // anti-rotation bend, near the molar that would roll
    straight 4 mm
    preactivate gable toward gingival        // arms rise to the loop's side, so that level
    closed_loop(height = loop_height, width = 3 mm)  // slots turn the roots, not the crowns
    preactivate gable toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }

  tube    molar  slot 0.022 in x 0.028 in, length 4 mm        // stand where the nominal shape
  bracket canine slot 0.022 in x 0.028 in, width 3 mm         // puts them, unless \`at\` says otherwise

  activation pull through molar 0 mm .. 3 mm step 0.5 mm      // counted from neutral

  require at activation 1.5 mm {
    canine.force.distal   in 100 gf .. 150 gf
    canine.force.gingival in 20 gf .. 60 gf
    canine.moment.crown_mesial / canine.force.distal in 5.5 mm .. 8 mm
    molar.moment.mesial_out >= 2 N mm
    wire.stress <= 0.9 * wire.yield
  }
}
`;
