/** Wires well past first yield, followed by their alloy's own law. */
import { type FiniteElementCase, plasticAlloys, plasticMeshes, plasticRoundMeshes, plasticSpatialMeshes } from './case';

const slots = `tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm`;

export const plasticCases: readonly FiniteElementCase[] = [
  {
    name: 'levelling step, past yield',
    about: 'straight steel wire, bracket 1.5 mm gingival, nothing pulls along it',
    plastic: true,
    slides: true,
    quick: true,
    meshes: plasticMeshes,
    text: `${plasticAlloys}
appliance step_past_yield {
  wire 0.016 in x 0.022 in of steel
  path running mesial { straight 8 mm seat molar straight 12 mm seat canine straight 3 mm }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, moved 1.5 mm gingival
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'steep V bend, past yield',
    about: '60° off centre, nothing pulls along the wire',
    plastic: true,
    slides: true,
    meshes: plasticMeshes,
    text: `${plasticAlloys}
appliance steep_v_bend {
  wire 0.019 in x 0.025 in of titanium
  path running mesial {
    straight 8 mm seat molar straight 5 mm preactivate 60 deg toward gingival radius 3 mm straight 10 mm seat canine straight 3 mm
  }
  ${slots}
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'steeply gabled loop, pulled on trial',
    about: 'gables of 45°, first engaged, moved by 3 mm and back, then 3 stages',
    plastic: true,
    meshes: plasticMeshes,
    text: `${plasticAlloys}
appliance steep_gables {
  wire 0.019 in x 0.025 in of titanium
  path running mesial {
    straight 3 mm
    seat molar
    straight 4 mm
    preactivate 45 deg toward gingival radius 2 mm
    straight 1 mm
    bend 90 deg toward gingival radius 2 mm
    straight 4 mm
    bend 180 deg toward mesial radius 2 mm
    straight 4 mm
    bend 90 deg toward mesial radius 2 mm
    straight 1 mm
    preactivate 45 deg toward gingival radius 2 mm
    straight 4 mm
    seat canine
    straight 3 mm
  }
  ${slots}
  trial activation 3 mm
  activation move canine mesial 0 mm .. 2 mm step 1 mm
}`,
  },
  {
    name: 'displaced bracket, past yield',
    about: 'straight wire bent in both planes at once, bracket 1.2 mm gingival and buccal, nothing pulls along it',
    plastic: true,
    slides: true,
    quick: true,
    meshes: plasticSpatialMeshes,
    text: `${plasticAlloys}
appliance displaced_past_yield {
  wire 0.017 in x 0.025 in of titanium
  path running mesial { straight 8 mm seat molar straight 14 mm seat canine straight 3 mm }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, moved 1.2 mm gingival 1.2 mm buccal
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'open vertical loop, pulled far and let go',
    about: 'steel, moved by 5 mm and back, then 2 stages: what has set, and the wire after it',
    plastic: true,
    meshes: plasticMeshes,
    text: `${plasticAlloys}
appliance open_loop_past_yield {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 3 mm
    seat molar
    straight 4 mm
    bend 90 deg toward gingival radius 2 mm
    straight 4 mm
    bend 180 deg toward mesial radius 2 mm
    straight 4 mm
    bend 90 deg toward mesial radius 2 mm
    straight 4 mm
    seat canine
    straight 3 mm
  }
  ${slots}
  trial activation 5 mm
  activation move canine mesial 0 mm .. 2 mm step 2 mm
}`,
  },
  {
    name: 'torque and rotation, past yield',
    about: 'twist of 30° and an anti-rotation bend of 60°, nothing pulls along the wire',
    plastic: true,
    slides: true,
    meshes: plasticSpatialMeshes,
    text: `${plasticAlloys}
appliance torque_and_rotation_past_yield {
  wire 0.019 in x 0.025 in of titanium
  path running mesial {
    straight 8 mm seat molar straight 5 mm preactivate 60 deg toward lingual radius 3 mm straight 1 mm twist 30 deg over 4 mm straight 4 mm seat canine straight 3 mm
  }
  ${slots}
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'cantilever out of its plane, past yield',
    about: 'bends of 50° gingival and 40° lingual, hook 14 mm further on: bent about both axes, in large rotation',
    plastic: true,
    meshes: plasticSpatialMeshes,
    text: `${plasticAlloys}
appliance cantilever_past_yield {
  wire 0.017 in x 0.025 in of titanium
  path running mesial {
    straight 3 mm seat molar straight 4 mm preactivate 50 deg toward gingival radius 3 mm straight 1 mm preactivate 40 deg toward lingual radius 3 mm straight 14 mm seat tie straight 1 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  hook tie
}`,
  },
  {
    name: 'bar from side to side, past yield',
    about: 'round steel bar of 0.9 mm, one molar moved by 2 mm to the side and 2 mm gingival: bending with torsion',
    plastic: true,
    meshes: plasticRoundMeshes,
    text: `${plasticAlloys}
appliance bar_past_yield {
  wire round 0.036 in of steel
  path running mesial {
    straight 2 mm
    seat first_molar
    straight 5 mm
    bend 90 deg toward lingual radius 5 mm
    straight 16 mm
    bend 90 deg toward distal radius 5 mm
    straight 5 mm
    seat other_molar
    straight 2 mm
  }
  tube first_molar length 3 mm
  tube other_molar length 3 mm, moved 2 mm gingival 2 mm lingual
}`,
  },
];
