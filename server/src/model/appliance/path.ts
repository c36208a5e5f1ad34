/** The appliance's path: walked once for the wire, and again on trial to find a bend meant as preactivation. */
import type { Pose } from '#core/design';
import { identityMatrix, zeroVector } from '#core/math/vector';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { BendStep, PathItem, PathMember, Span } from '#grammar/tree';
import { emptyWire } from '../diagnostics/empty-wire';
import { unknownDirection } from '../diagnostics/unknown-direction';
import { wireTooLong } from '../diagnostics/wire-too-long';
import { nearest } from '../names/nearest';
import { innerScope, SILENT } from '../names/scope';
import { ANATOMY, UPRIGHT } from '../path/directions';
import { type Layout, LIMITS, newLayout } from '../path/layout';
import { walkBody } from '../path/walk';
import type { Definition, PathStep } from '../resolved';
import { RUNNING_DISTAL } from './attachments';
import { type ApplianceContext, headOf, isClosed } from './context';

export const RUNNING = ['mesial', 'distal'];

export function runsDistally(path: PathMember | undefined): boolean {
  return path?.direction?.text === 'distal';
}

/** Lays the path out and reports what is wrong with it. */
export function layOut(
  path: PathMember,
  attachments: ReadonlyMap<string, Definition>,
  context: ApplianceContext,
): Layout {
  const { direction } = path;
  if (direction && !RUNNING.includes(direction.text)) {
    context.recorder.problem(
      unknownDirection.at(direction.span, direction.text, nearest(direction.text, RUNNING), RUNNING),
    );
  }
  const layout = walk(path, attachments, context, new Set());
  if (!direction || !RUNNING.includes(direction.text)) layout.complete = false;
  if (layout.complete && layout.station === 0 && isClosed(path.span, context.home.text)) {
    context.recorder.problem(emptyWire.at(headOf(path.span, context.home.text)));
  }
  if (layout.station === 0) layout.complete = false;
  if (layout.station > LIMITS.length && !layout.stopped) {
    const [length, limit] = [layout.station, LIMITS.length].map((value) =>
      formatQuantity({ value, dimension: LENGTH }),
    );
    context.recorder.problem(
      wireTooLong.at(longestStep(layout) ?? headOf(path.span, context.home.text), length, limit),
    );
    layout.complete = false;
  }
  return layout;
}

/** The item of the path that lays out the most wire. */
function longestStep({ steps }: Layout): Span | undefined {
  const length = ({ from, to }: PathStep): number => to - from;
  return steps.reduce<PathStep | undefined>(
    (most, one) => (most && length(most) >= length(one) ? most : one),
    undefined,
  )?.pathSpan;
}

/** The layout with some bends taken as preactivation; reports and defines nothing. */
export function layOutOnTrial(
  path: PathMember,
  attachments: ReadonlyMap<string, Definition>,
  context: ApplianceContext,
  asPreactivation: ReadonlySet<BendStep>,
): Layout {
  const silent = { ...context, recorder: SILENT, shape: { ...context.shape, recorder: SILENT }, define() {} };
  return walk(path, attachments, silent, asPreactivation);
}

/** Shape bends that the appliance's own path writes out, in order. */
export function writtenBends(items: readonly PathItem[]): BendStep[] {
  return items.flatMap((item) => {
    if (item.kind === 'repeat') return writtenBends(item.body);
    return item.kind === 'bend' && !item.preactivation ? [item] : [];
  });
}

function walk(
  path: PathMember,
  attachments: ReadonlyMap<string, Definition>,
  context: ApplianceContext,
  asPreactivation: ReadonlySet<BendStep>,
): Layout {
  const start: Pose = { position: zeroVector, axes: runsDistally(path) ? RUNNING_DISTAL : identityMatrix };
  const layout = newLayout(start, context.wire(), asPreactivation);
  walkBody(path.body, layout, {
    place: { ...context.shape, scope: innerScope(context.scope) },
    home: context.home,
    directions: ANATOMY,
    turning: UPRIGHT,
    pathSpan: undefined,
    parts: [],
    feet: undefined,
    attachments,
    outermost: {
      recorder: context.recorder,
      kind: 'path',
      define: context.define,
      reported: context.reported,
    },
  });
  return layout;
}
