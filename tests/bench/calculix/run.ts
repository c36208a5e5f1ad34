/** Runs CalculiX on a deck and reads both ends' forces and moments from its reaction sums. */
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
      timeout: 600_000,
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

/** Tables of the printed file in order: per step FIRST U, FIRST RF, LAST U, LAST RF. */
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
  return deck.centres.map((centres, stage) => ({
    wrenches: [0, 1].map((end) => {
      const displacements = blocks[4 * stage + 2 * end];
      const reactions = blocks[4 * stage + 2 * end + 1];
      let force: Vector = [0, 0, 0];
      let moment: Vector = [0, 0, 0];
      for (const [node, reaction] of reactions) {
        const place = add(deck.mesh.nodes[node - 1], displacements.get(node)!);
        // The wire acts on the tooth against the reaction.
        force = subtract(force, reaction);
        moment = subtract(moment, cross(subtract(place, centres[end]), reaction));
      }
      const { axes } = design.attachments[end];
      return { force: applyTransposed(axes, force), moment: applyTransposed(axes, moment) };
    }),
  }));
}
