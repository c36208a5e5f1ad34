/** Bands on request: computed in slices, kept per design, and put into a snapshot of their own. */
import type { AnalysisOptions } from '#core/analysis/analysis';
import { type Uncertainty, uncertaintySteps } from '#core/analysis/uncertainty';
import type { Bands } from '#model/bands';
import { designKey } from '#model/design-key';
import { unknownAuxiliary } from '#model/evaluation/auxiliaries';
import { scatteredAuxiliaries, scatteredSizes } from '#model/scattered-sizes';
import type { Snapshot, SnapshotAppliance } from './snapshot';

export interface BandRequest {
  /** Of one appliance by its name; of all where absent. */
  readonly appliance?: string;
  /** mm from neutral; the working activation where absent. */
  readonly activation?: number;
  /** Called every few wires: yields false to give it up. */
  readonly pause?: () => Promise<boolean>;
}

/** Snapshots with bands, where there are any; without them where the request was given up. */
export function createBandMaker(analysis: Partial<AnalysisOptions>) {
  // Of the numbers alone: where the sizes are written moves with every edit.
  const kept = new Map<string, Uncertainty | undefined>();

  const uncertaintyOf = async (
    key: string,
    steps: ReturnType<typeof uncertaintySteps>,
    { pause }: BandRequest,
  ): Promise<Uncertainty | undefined> => {
    if (kept.has(key)) return kept.get(key);
    for (let count = 1; ; count++) {
      const { done, value } = steps.next();
      if (done) {
        kept.set(key, value);
        if (kept.size > KEPT) kept.delete(kept.keys().next().value as string);
        return value;
      }
      if (pause && count % WIRES_PER_SLICE === 0 && !(await pause())) return undefined;
    }
  };

  const bandsOf = async (
    { appliance, design, workingActivation, stale }: SnapshotAppliance,
    request: BandRequest,
  ): Promise<Bands | undefined> => {
    const activation = request.activation ?? workingActivation;
    // A band without what a further wire does would not be one of the tooth's.
    if (stale || !design || activation === undefined || unknownAuxiliary(appliance)) return undefined;
    const own = scatteredSizes(appliance);
    const others = scatteredAuxiliaries(appliance);
    const scatter = own.map((size) => size.scatter);
    const wires = others.map(({ sizes, ...wire }) => ({ ...wire, scatter: sizes.map((size) => size.scatter) }));
    const keys = wires.map((wire) => [wire.name, designKey(wire.design, analysis), wire.scatter]);
    const key = JSON.stringify([designKey(design, analysis), scatter, activation, keys]);
    const steps = uncertaintySteps(design, scatter, activation, analysis, wires);
    const uncertainty = await uncertaintyOf(key, steps, request);
    return uncertainty && { ...uncertainty, sizes: [...own, ...others.flatMap(({ sizes }) => sizes)] };
  };

  return async (snapshot: Snapshot, request: BandRequest = {}): Promise<Snapshot> => {
    const appliances: SnapshotAppliance[] = [];
    for (const one of snapshot.appliances) {
      const asked = request.appliance === undefined || one.appliance.name === request.appliance;
      const bands = asked ? await bandsOf(one, request) : undefined;
      appliances.push(bands ? { ...one, bands } : one);
    }
    return { ...snapshot, appliances };
  };
}

/** Some milliseconds of work, more where the wires yield. */
const WIRES_PER_SLICE = 4;
/** A record of bands holds some thousand numbers. */
const KEPT = 16;
