/** The shapes of an appliance that can be given out, by name. */
import type { EngagedState, Outline } from '#core/analysis/analysis';
import { stateBeside } from '#core/analysis/several-wires';
import type { EvaluatedAppliance } from '#model/resolved';
import { type Stretch, stretches } from '#model/stock';

export const shapeNames = ['nominal', 'passive', 'neutral', 'engaged'] as const;
export type ShapeName = (typeof shapeNames)[number];

export interface NamedShape {
  /** A shape of the appliance's own wire, or an auxiliary wire's name. */
  readonly name: string;
  readonly outline: Outline;
  readonly made: readonly Stretch[];
}

/** Those that there are; engaged at the stage nearest to the activation (mm from neutral), the working one where it is not given. */
export function shapesOf(evaluated: EvaluatedAppliance, activation?: number): readonly NamedShape[] {
  const { appliance, analysis, further } = evaluated;
  const design = evaluated.gauged?.design ?? appliance.design;
  if (!design || !analysis) return [];
  const made = stretches(design);
  const engaged = engagedAt(evaluated, activation);
  const outlines: Readonly<Record<ShapeName, Outline | undefined>> = {
    nominal: analysis.nominal,
    passive: analysis.passive,
    neutral: design.activation ? analysis.neutral?.outline : undefined,
    engaged: engaged?.outline,
  };
  return [
    ...shapeNames.flatMap((name) => {
      const outline = outlines[name];
      return outline ? [{ name, outline, made }] : [];
    }),
    ...further.flatMap((wire) => {
      const outline = stateBeside(wire, engaged?.motion ?? 0)?.outline;
      return outline ? [{ name: wire.name, outline, made: stretches(wire.design) }] : [];
    }),
  ];
}

/** The solved stage nearest to the activation, or to the working one. */
export function engagedAt(
  { analysis, workingActivation }: EvaluatedAppliance,
  activation = workingActivation ?? 0,
): EngagedState | undefined {
  return analysis?.stages
    .flatMap(({ state }) => state ?? [])
    .reduce<EngagedState | undefined>(
      (best, one) =>
        best && Math.abs(best.activation - activation) <= Math.abs(one.activation - activation) ? best : one,
      undefined,
    );
}
