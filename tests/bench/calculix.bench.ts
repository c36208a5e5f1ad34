/**
 * The same wire in CalculiX (general finite elements, Debian calculix-ccx), side by side: swept 20-node solids with
 * reduced integration, large displacements. Both are run here; nothing is stored.
 *
 * Most of the difference is the solid's: a bend of two thicknesses' radius is stiffer than a rod knows (a curved
 * beam, of the order of (h/R)²); with the section halved the difference of the planar case falls from 0.9 to 0.4 %.
 */
import { analyseAppliance } from '#core/analysis/analyse';
import type { ApplianceAnalysis } from '#core/analysis/analysis';
import type { ApplianceDesign } from '#core/design';
import gabled from './appliances/vertical-loop-gabled.spring';
import inSpace from './appliances/vertical-loop-in-space.spring';
import { writeDeck } from './calculix/deck';
import { calculixPresent, type FiniteElementStage, runCalculix } from './calculix/run';
import type { MeshSize } from './calculix/swept-mesh';
import { designOf } from './design-of';

interface Case {
  readonly name: string;
  readonly text: string;
  /** Stages to compare, mm from neutral; all of the file's where absent. */
  readonly stages?: readonly number[];
  readonly meshes: readonly (readonly [string, MeshSize])[];
}

const cases: readonly Case[] = [
  {
    name: 'vertical loop, gabled, 7 stages',
    text: gabled,
    meshes: [
      ['coarse', { longest: 2, turn: Math.PI / 4, high: 2, wide: 1 }],
      ['fine', { longest: 1, turn: Math.PI / 8, high: 2, wide: 1 }],
    ],
  },
  {
    // Torsion needs two bricks across the width: one alone is 6 % too stiff in this case.
    name: 'the same in space, 4 stages',
    text: inSpace,
    stages: [0, 1, 2, 3],
    meshes: [['coarse', { longest: 1.5, turn: Math.PI / 6, high: 2, wide: 2 }]],
  },
];

if (!calculixPresent()) {
  console.log('not run: the program ccx (Debian package calculix-ccx) is not installed.');
} else {
  for (const { name, text, stages, meshes } of cases) {
    const written = designOf(text);
    const design = stages ? { ...written, activation: { ...written.activation!, stages } } : written;
    const analysis = analyseAppliance(design);
    const own = medianTime(design);
    const motions = analysis.stages.map((stage) => stage.state!.motion);
    for (const [label, mesh] of meshes) {
      const deck = writeDeck(design, motions, mesh);
      const run = runCalculix(design, deck);
      if (run.outcome !== 'done') throw new Error(`${name}: ${run.outcome === 'failed' ? run.message : run.outcome}`);
      const { force, moment } = differences(analysis, run.stages);
      console.log(
        [
          `${name}, ${label} (${deck.mesh.bricks.length} bricks)`,
          `ccx ${run.milliseconds.toFixed(0)} ms`,
          `springwright ${own.toFixed(3)} ms`,
          `ratio ${(run.milliseconds / own).toFixed(0)}`,
          `largest difference / largest value: force ${(100 * force).toFixed(2)} %, moment ${(100 * moment).toFixed(2)} %`,
        ].join('; '),
      );
      printStages(analysis, run.stages);
    }
  }
}

/** Median of whole analyses in a warm process, ms. */
function medianTime(design: ApplianceDesign): number {
  const times: number[] = [];
  for (let k = 0; k < 300; k++) {
    const before = performance.now();
    analyseAppliance(design);
    times.push(performance.now() - before);
  }
  return times.slice(100).sort((a, b) => a - b)[100];
}

function differences(analysis: ApplianceAnalysis, stages: readonly FiniteElementStage[]) {
  const of = (kind: 'force' | 'moment') => {
    let largest = 0;
    let miss = 0;
    for (const [k, stage] of stages.entries()) {
      for (const [i, wrench] of stage.wrenches.entries()) {
        const own = analysis.stages[k].state!.wrenches[i][kind];
        for (const [axis, value] of wrench[kind].entries()) {
          largest = Math.max(largest, Math.abs(value));
          miss = Math.max(miss, Math.abs(value - own[axis]));
        }
      }
    }
    return miss / largest;
  };
  return { force: of('force'), moment: of('moment') };
}

function printStages(analysis: ApplianceAnalysis, stages: readonly FiniteElementStage[]): void {
  const shown = (values: readonly number[]) => values.map((value) => value.toFixed(3).padStart(8)).join(' ');
  for (const [k, stage] of stages.entries()) {
    if (k % 3 !== 0) continue;
    const { activation, state } = analysis.stages[k];
    for (const end of [0, 1]) {
      const own = state!.wrenches[end];
      const other = stage.wrenches[end];
      const label = `  ${activation.toFixed(1)} mm, ${end === 0 ? 'molar ' : 'canine'}`;
      console.log(`${label}  springwright F ${shown(own.force)}  M ${shown(own.moment)}`);
      console.log(`${' '.repeat(label.length)}  ccx          F ${shown(other.force)}  M ${shown(other.moment)}`);
    }
  }
}
