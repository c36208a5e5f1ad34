/** Elastic wires bent or held in space. */
import { elasticAlloys, type FiniteElementCase, roundMeshes, spatialMeshes } from './case';

export const spatialCases: readonly FiniteElementCase[] = [
  {
    name: 'torque and rotation',
    about: 'twist of 20° and an anti-rotation bend of 20° in a straight wire, nothing pulls along it',
    quick: true,
    slides: true,
    meshes: spatialMeshes,
    text: `${elasticAlloys}
appliance torque_and_rotation {
  wire 0.019 in x 0.025 in of titanium
  path running mesial {
    straight 8 mm seat molar straight 4 mm twist 20 deg over 4 mm straight 1 mm preactivate 20 deg toward lingual radius 2 mm straight 4 mm seat canine straight 3 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'displaced bracket',
    about: 'steel, bracket off by 0.5 mm in two directions, tip 3°, rotation 4°, torque 10°, nothing pulls along it',
    quick: true,
    slides: true,
    meshes: spatialMeshes,
    text: `${elasticAlloys}
appliance displaced_bracket {
  wire 0.016 in x 0.022 in of steel
  path running mesial { straight 8 mm seat molar straight 14 mm seat canine straight 3 mm }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm at 14 mm mesial 0.5 mm gingival 0.5 mm buccal tip 3 deg rotation 4 deg torque 10 deg
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'vertical loop in space',
    about: 'radius 1.5 mm, gables of 25°, V bend of 20°, anti-rotation bends of 15°, 3 stages',
    meshes: spatialMeshes,
    text: `${elasticAlloys}
appliance loop_in_space {
  wire 0.017 in x 0.025 in of titanium
  path running mesial {
    straight 3 mm
    seat molar
    straight 3 mm
    preactivate 20 deg toward gingival radius 2 mm
    straight 0.5 mm
    preactivate 15 deg toward lingual radius 2.5 mm
    straight 1 mm
    preactivate 25 deg toward gingival radius 1.5 mm
    straight 0.5 mm
    bend 90 deg toward gingival radius 1.5 mm
    straight 5 mm
    bend 180 deg toward mesial radius 1.5 mm
    straight 5 mm
    bend 90 deg toward mesial radius 1.5 mm
    straight 0.5 mm
    preactivate 25 deg toward gingival radius 1.5 mm
    straight 1 mm
    preactivate 15 deg toward lingual radius 2.5 mm
    straight 3 mm
    seat canine
    straight 3 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation move canine mesial 0 mm .. 2 mm step 1 mm
}`,
  },
  {
    name: 'three brackets in space',
    about: 'offsets between them, one to the side; the last two off in all six ways',
    meshes: spatialMeshes,
    text: `${elasticAlloys}
appliance three_brackets_in_space {
  wire 0.017 in x 0.025 in of titanium
  path running mesial {
    straight 2 mm
    seat molar
    straight 4 mm
    bend 60 deg toward gingival radius 3 mm
    straight 6 mm
    bend 60 deg toward mesial radius 3 mm
    straight 4 mm
    seat premolar
    straight 4 mm
    bend 60 deg toward buccal radius 3 mm
    straight 6 mm
    bend 60 deg toward mesial radius 3 mm
    straight 4 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket premolar slot 0.022 in x 0.028 in, width 3 mm, at ${(8 + 6 * Math.sin(Math.PI / 3) + 3 - 0.3).toFixed(4)} mm mesial 7.8 mm gingival 0.3 mm buccal tip 3 deg rotation 3 deg torque -5 deg
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, at ${(16 + 12 * Math.sin(Math.PI / 3) + 6 - 0.5).toFixed(4)} mm mesial 7.8 mm gingival 7.8 mm buccal tip -3 deg rotation 2 deg torque 5 deg
}`,
  },
  {
    name: 'helical loop',
    about: 'round steel wire, two turns of 4 mm, bracket off by 2 mm gingival and 1 mm buccal',
    meshes: roundMeshes,
    text: `${elasticAlloys}
appliance helical_loop {
  wire round 0.020 in of steel
  path running mesial {
    straight 3 mm seat molar straight 5 mm helix 2 turns diameter 4 mm toward gingival straight 12 mm seat canine straight 3 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, moved 2 mm gingival 1 mm buccal
}`,
  },
  {
    name: 'whole-arch bar',
    about: 'round steel bar of 0.9 mm along the arch, molars rotated by 8° and torqued by 5°, expanded by 2 mm',
    meshes: roundMeshes,
    text: `${elasticAlloys}
appliance whole_arch_bar {
  wire round 0.036 in of steel
  path running mesial {
    straight 2 mm
    seat first_molar
    straight 14 mm
    bend 90 deg toward lingual radius 16 mm
    straight 3 mm
    bend 90 deg toward distal radius 16 mm
    straight 14 mm
    seat other_molar
    straight 2 mm
  }
  tube first_molar length 3 mm rotation -8 deg torque 5 deg
  tube other_molar length 3 mm
  activation move other_molar lingual 2 mm .. 2 mm step 1 mm
}`,
  },
  {
    name: 'palatal bar with a loop',
    about: 'square bar of 0.8 mm over the palate, omega loop in the middle, one molar moved and tipped',
    meshes: spatialMeshes,
    text: `${elasticAlloys}
appliance palatal_bar {
  wire 0.032 in x 0.032 in of titanium
  path running mesial {
    straight 2 mm
    seat first_molar
    straight 3 mm
    bend 90 deg toward lingual radius 3 mm
    straight 6 mm
    bend 60 deg toward distal radius 3 mm
    straight 1 mm
    bend 300 deg toward lingual radius 4 mm
    straight 1 mm
    bend 60 deg toward lingual radius 3 mm
    straight 6 mm
    bend 90 deg toward distal radius 3 mm
    straight 3 mm
    seat other_molar
    straight 2 mm
  }
  tube first_molar length 3 mm rotation -10 deg
  tube other_molar length 3 mm, moved 1.5 mm gingival 1 mm lingual
}`,
  },
];
