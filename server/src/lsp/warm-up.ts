/**
 * Runs a small appliance through everything once the server has started, so that the first real one
 * finds compiled code: the first curve would take many times as long as the next.
 */
import { provideInlayHints } from '#features/inlay-hints';
import { defaultSettings } from '#features/settings';
import { createWorkspace } from '#workspace/workspace';
import type { Host } from './host';

/** In short slices, so that a request never waits for more than one. */
export function warmUp(host: Host, run: (slice: () => Promise<void>) => Promise<void>): void {
  const workspace = createWorkspace({ readFile: async () => undefined });
  const slice = (round: number): void =>
    host.defer(() => {
      if (round < rounds) void run(() => solve(workspace, round)).then(() => slice(round + 1));
    });
  slice(0);
}

const rounds = 12;
const uri = 'untitled:warm-up.spring';

async function solve(workspace: ReturnType<typeof createWorkspace>, round: number): Promise<void> {
  workspace.open(uri, sample(20 + round / 10), round);
  const snapshot = await workspace.snapshot(uri);
  const everything = { start: { line: 0, character: 0 }, end: { line: 1000, character: 0 } };
  if (snapshot !== undefined) provideInlayHints(snapshot, everything, defaultSettings);
}

/** A gabled loop with bends in all three orders; every round another angle, so that every round solves. */
function sample(gable: number): string {
  return `
use "alloys"
part warm_up_loop(height = 7 mm, width = 2 mm) {
  bend 90 deg toward gingival radius 0 mm
  foot
  straight (height - width / 2)
  bend 180 deg toward mesial radius (width / 2)
  straight (height - width / 2)
  foot
  bend 90 deg toward mesial radius 0 mm
}
appliance warm_up {
  wire 0.017 in x 0.025 in of beta_titanium
  path running mesial {
    straight 4 mm
    seat molar
    straight 6 mm
    preactivate ${gable} deg toward gingival
    preactivate 8 deg toward lingual
    twist 2 deg over 1 mm
    warm_up_loop(height = 8 mm)
    preactivate ${gable} deg toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 4 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 3 mm step 0.5 mm
  require at activation 1.5 mm { canine.force.distal >= 0 N }
}
`;
}
