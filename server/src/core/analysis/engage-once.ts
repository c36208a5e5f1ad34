/** One equilibrium of an elastic wire as its attachments stand, without anything that is read off a whole curve. */
import type { ApplianceDesign } from '../design';
import { centreline } from '../geometry/centreline';
import {
  createPath,
  engage,
  engageFrom,
  fits,
  type PathState,
  pathState,
  strictCriteria,
} from '../mechanics/continuation';
import { placeSpans } from '../mechanics/held-wire';
import { defaultMesh } from '../mechanics/mesh';
import { splitsNeeded } from '../mechanics/mesh-check';
import type { EngagedState, Failure } from './analysis';
import { unsolved } from './curve';
import { engagedState, slidAmounts, wireRecord } from './engaged-state';
import { heldFailure, slotFailure, spanFailure } from './feasibility';
import { draggedElastically, frictionBounds, hasFriction } from './friction';

/** What is known from an equilibrium before, of the same wire with its attachments a little elsewhere. */
export interface Engaged {
  readonly splits: readonly (readonly number[])[];
  readonly from: PathState;
}

export type EngagedOnce = { readonly state: EngagedState; readonly engaged: Engaged } | Failure;

/**
 * The state of a design without an activation, solved to strict criteria on the default mesh, or why there is none. Set out from an
 * equilibrium `before` it keeps to that one's branch.
 */
export function engageOnce(design: ApplianceDesign, before?: Engaged): EngagedOnce {
  const failure = heldFailure(design) ?? slotFailure(design, 0) ?? spanFailure(design, 0);
  if (failure) return failure;
  const nominal = centreline(design.elements, design.start, 0);
  const passive = centreline(design.elements, design.start, 1);
  const effort = { solves: 0, iterations: 0 };
  let splits = before?.splits ?? [];
  for (let round = 0; ; round++) {
    const { spans, controls } = placeSpans(design, nominal, 'full', defaultMesh, splits);
    const path = createPath(
      spans.map(({ held }) => held),
      controls,
      strictCriteria,
      effort,
    );
    const near = before && fits(path, before.from) ? engageFrom(path, before.from) : undefined;
    const engaged = near?.ok ? near : engage(path);
    if (!engaged.ok) return unsolved(design, effort, 0, 0, engaged.residual);
    const finer = round < MOST_SPLITS ? splitsNeeded(spans, defaultMesh, splits) : undefined;
    if (finer) {
      splits = finer;
      continue;
    }
    const record = wireRecord(design, { spans, controls }, passive);
    const slidTooFar = slotFailure(design, 0, slidAmounts(record, 0));
    if (slidTooFar) return slidTooFar;
    const state = engagedState(record, 0, 0, effort.iterations);
    const friction = hasFriction(design) ? frictionBounds(draggedElastically(path), record, state) : undefined;
    return {
      state: friction ? { ...state, friction } : state,
      engaged: { splits, from: pathState(path) },
    };
  }
}

/** As often as in the analysis of a whole curve. */
const MOST_SPLITS = 3;
