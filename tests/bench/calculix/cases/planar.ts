/** Elastic wires bent and held in one plane. */
import { bendingMeshes, elasticAlloys, type FiniteElementCase } from './case';

const slots = `tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm`;

export const planarCases: readonly FiniteElementCase[] = [
  {
    name: 'levelling step',
    about: 'straight steel wire, bracket 1 mm gingival, nothing pulls along it',
    quick: true,
    slides: true,
    meshes: bendingMeshes,
    text: `${elasticAlloys}
appliance levelling_step {
  wire 0.016 in x 0.022 in of steel
  path running mesial { straight 8 mm seat molar straight 12 mm seat canine straight 3 mm }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, moved 1 mm gingival
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'off-centre V bend',
    about: '30° at a third of the span, nothing pulls along the wire',
    quick: true,
    slides: true,
    meshes: bendingMeshes,
    text: `${elasticAlloys}
appliance v_bend {
  wire 0.017 in x 0.025 in of titanium
  path running mesial {
    straight 8 mm seat molar straight 5 mm preactivate 30 deg toward gingival radius 2 mm straight 12 mm seat canine straight 3 mm
  }
  ${slots}
  activation pull through molar 0 mm .. 0 mm step 1 mm
}`,
  },
  {
    name: 'tip-back cantilever',
    about: 'hook at the end, 35° in large rotation',
    meshes: bendingMeshes,
    text: `${elasticAlloys}
appliance cantilever {
  wire 0.017 in x 0.025 in of titanium
  path running mesial {
    straight 3 mm seat molar straight 4 mm preactivate 35 deg toward gingival radius 2 mm straight 22 mm seat tie straight 1 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  hook tie
}`,
  },
  {
    name: 'vertical loop, wide bends',
    about: 'radius 2 mm, gables of 30°, 4 stages',
    meshes: bendingMeshes,
    text: verticalLoop(2, 8),
  },
  {
    name: 'vertical loop, tight bends',
    about: 'the same with radius 1 mm, twice the thickness',
    meshes: bendingMeshes,
    text: verticalLoop(1, 7),
  },
  {
    name: 'T-loop',
    about: 'radii of 1.5 mm, gables of 20°, off centre',
    meshes: bendingMeshes,
    text: `${elasticAlloys}
use "loops"
appliance t_loop_spring {
  wire 0.016 in x 0.022 in of titanium
  path running mesial {
    straight 3 mm
    seat molar
    straight 4 mm
    preactivate 20 deg toward gingival radius 2 mm
    straight 0.5 mm
    t_loop(height = 8 mm, width = 10 mm, gap = 2 mm, end_radius = 1.5 mm, leg_radius = 1.5 mm, base_radius = 1.5 mm)
    straight 0.5 mm
    preactivate 20 deg toward gingival radius 2 mm
    straight 6 mm
    seat canine
    straight 3 mm
  }
  ${slots}
  activation move canine mesial 0 mm .. 4 mm step 2 mm
}`,
  },
  {
    name: 'omega loop, drawn through the tube',
    about: 'steel, 1 mm drawn',
    meshes: bendingMeshes,
    text: `${elasticAlloys}
appliance omega_loop {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 8 mm
    seat molar
    straight 5 mm
    bend 60 deg toward gingival radius 1.5 mm
    straight 1.5 mm
    bend 300 deg toward mesial radius 2 mm
    straight 1.5 mm
    bend 60 deg toward mesial radius 1.5 mm
    straight 5 mm
    seat canine
    straight 3 mm
  }
  ${slots}
  activation pull through molar 1 mm .. 1 mm step 1 mm
}`,
  },
  {
    name: 'three brackets',
    about: 'offsets between them; the middle one 0.5 mm gingival, the last one 0.5 mm distal and tipped 3°',
    quick: true,
    meshes: bendingMeshes,
    text: `${elasticAlloys}
appliance three_brackets {
  wire 0.016 in x 0.022 in of titanium
  path running mesial {
    straight 2 mm
    seat molar
    straight 4 mm
    bend 60 deg toward gingival radius 3 mm
    straight 6 mm
    bend 60 deg toward mesial radius 3 mm
    straight 4 mm
    seat premolar
    straight 3.5 mm
    bend 60 deg toward occlusal radius 3 mm
    straight 6 mm
    bend 60 deg toward mesial radius 3 mm
    straight 3.5 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket premolar slot 0.022 in x 0.028 in, width 3 mm, moved 0.5 mm gingival
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, at ${(15 + 12 * Math.sin(Math.PI / 3) + 6 - 0.5).toFixed(4)} mm mesial tip 3 deg
}`,
  },
  {
    // Moved by no more than the alloy bears (strains of 1.3 %): beyond it the two elastic laws part.
    name: 'short offset',
    about: 'radius 1 mm and 2 mm of wire between, held at both ends: bending and pull act on each other in the bends',
    meshes: bendingMeshes,
    text: `${elasticAlloys}
appliance short_offset {
  wire 0.016 in x 0.022 in of titanium
  path running mesial {
    straight 2 mm
    seat molar
    straight 3 mm
    bend 60 deg toward gingival radius 1 mm
    straight 2 mm
    bend 60 deg toward mesial radius 1 mm
    straight 3 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm, moved 0.05 mm gingival
}`,
  },
];

function verticalLoop(radius: number, height: number): string {
  const leg = height - 2 * radius;
  return `${elasticAlloys}
appliance vertical_loop {
  wire 0.019 in x 0.025 in of titanium
  let gable = 30 deg
  let radius = ${radius} mm
  path running mesial {
    straight 3 mm
    seat molar
    straight 5 mm
    preactivate gable toward gingival radius radius
    straight (2.8 mm - arc(radius, gable))
    bend 90 deg toward gingival radius radius
    straight ${leg} mm
    bend 180 deg toward mesial radius radius
    straight ${leg} mm
    bend 90 deg toward mesial radius radius
    straight (2.8 mm - arc(radius, gable))
    preactivate gable toward gingival radius radius
    straight 5 mm
    seat canine
    straight 3 mm
  }
  ${slots}
  activation move canine mesial 0 mm .. 3 mm step 1 mm
}`;
}
