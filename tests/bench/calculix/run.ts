/** Runs CalculiX on a deck and reads all attachments' forces and moments from its reaction sums. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ApplianceDesign } from '#core/design';
import { add, applyTransposed, cross, subtract, type Vector } from '../../oracle/rotation';
import type { Deck } from './deck';

export interface FiniteElementStage {
  /** Of the wire on the tooth, per attachment, in its axes at the slot's centre; N and N mm. */
  readonly wrenches: readonly { readonly force: Vector; readonly moment: Vector }[];
}

export type FiniteElementRun =
  | { readonly outcome: 'not run' }
  | { readonly outcome: 'failed'; readonly message: string }
  | { readonly outcome: 'done'; readonly stages: readonly FiniteElementStage[]; readonly milliseconds: number };

/** True where the program `ccx` can be started. */
export function calculixPresent(): boolean {
  return spawnSync('ccx', ['-v']).error === undefined;
}

export function runCalculix(design: ApplianceDesign, deck: Deck): FiniteElementRun {
  if (!calculixPresent()) return { outcome: 'not run' };
  const folder = mkdtempSync(join(tmpdir(), 'wire-'));
  try {
    writeFileSync(join(folder, 'wire.inp'), deck.text);
    const begun = performance.now();
    const run = spawnSync('ccx', ['wire'], {
      cwd: folder,
      encoding: 'utf8',
      env: { ...process.env, OMP_NUM_THREADS: '1' },
      timeout: 1_800_000,
      maxBuffer: 1 << 28,
    });
    const milliseconds = performance.now() - begun;
    const error = run.stdout?.match(/\*ERROR[^\n]*(\n[^\n]+)*/)?.[0];
    if (run.status !== 0 || error) {
      return { outcome: 'failed', message: error ?? `exit ${run.status}: ${run.stdout?.slice(-300)}` };
    }
    const blocks = readBlocks(readFileSync(join(folder, 'wire.dat'), 'utf8'));
    return { outcome: 'done', stages: stagesOf(design, deck, blocks), milliseconds };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

type Block = ReadonlyMap<number, Vector>;

/** Tables of the printed file in order: per step and face the displacements, then the reactions. */
function readBlocks(text: string): Block[] {
  const blocks: Map<number, Vector>[] = [];
  for (const line of text.split('\n')) {
    if (/^ (displacements|forces)/.test(line)) blocks.push(new Map());
    const row = line.trim().split(/\s+/).map(Number);
    if (row.length === 4 && row.every(Number.isFinite)) blocks[blocks.length - 1]?.set(row[0], row.slice(1));
  }
  return blocks;
}

function stagesOf(design: ApplianceDesign, deck: Deck, blocks: readonly Block[]): FiniteElementStage[] {
  const { faces, nodes } = deck;
  return deck.centres.map((centres, stage) => {
    const sums = design.attachments.map(() => ({ force: [0, 0, 0] as Vector, moment: [0, 0, 0] as Vector }));
    for (const [k, index] of faces.entries()) {
      const displacements = blocks[2 * (faces.length * stage + k)];
      const reactions = blocks[2 * (faces.length * stage + k) + 1];
      const sum = sums[index];
      const placed = (node: number) => add(nodes[node - 1], displacements.get(node)!);
      const about = centres[k];
      const centre = 'node' in about ? placed(about.node) : about;
      for (const [node, reaction] of reactions) {
        // The wire acts on the tooth against the reaction.
        sum.force = subtract(sum.force, reaction);
        sum.moment = subtract(sum.moment, cross(subtract(placed(node), centre), reaction));
      }
    }
    return {
      wrenches: design.attachments.map(({ axes }, i) => ({
        force: applyTransposed(axes, sums[i].force),
        moment: applyTransposed(axes, sums[i].moment),
      })),
    };
  });
}
