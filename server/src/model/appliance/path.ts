/** The appliance's path: walked once for the wire, and again on trial to find a bend meant as preactivation. */
import type { Pose } from '#core/design';
import { cross, identityMatrix, type Mat3, zeroVector } from '#core/math/vector';
import { LENGTH } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { BendStep, PathItem, PathMember, Span } from '#grammar/tree';
import { emptyWire } from '../diagnostics/empty-wire';
import { unknownDirection } from '../diagnostics/unknown-direction';
import { wireTooLong } from '../diagnostics/wire-too-long';
import { memberLookup } from '../expression/member';
import { nearest } from '../names/nearest';
import { innerScope, SILENT } from '../names/scope';
import { ANATOMY, ARCH, type Directions, UPRIGHT, vectorOf } from '../path/directions';
import { type Holder, type Layout, LIMITS, newLayout } from '../path/layout';
import { walkBody } from '../path/walk';
import type { Definition, PathStep } from '../resolved';
import type { Site } from '../site';
import { type ApplianceContext, headOf, isClosed } from './context';

/** The directions in which a path can set out. */
export function runningWords({ kind }: Site): readonly string[] {
  return kind === 'arch' ? ['left', 'right', 'anterior', 'posterior'] : ['mesial', 'distal'];
}

export function runsDistally(path: PathMember | undefined): boolean {
  return path?.direction?.text === 'distal';
}

/** Lays the path out and reports what is wrong with it. */
export function layOut(
  path: PathMember,
  attachments: ReadonlyMap<string, Definition>,
  holders: ReadonlyMap<string, Holder>,
  context: ApplianceContext,
): Layout {
  const { direction } = path;
  const running = runningWords(context.site);
  if (direction && !running.includes(direction.text)) {
    context.recorder.problem(
      unknownDirection.at(direction.span, direction.text, nearest(direction.text, running), running),
    );
  }
  const layout = walk(path, attachments, holders, context, new Set());
  if (!direction || !running.includes(direction.text)) layout.complete = false;
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
  return walk(path, attachments, new Map(), silent, asPreactivation);
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
  holders: ReadonlyMap<string, Holder>,
  context: ApplianceContext,
  asPreactivation: ReadonlySet<BendStep>,
): Layout {
  const directions = context.site.kind === 'arch' ? ARCH : ANATOMY;
  const start: Pose = { position: zeroVector, axes: startAxes(path, directions) };
  const layout = newLayout(start, context.wire(), asPreactivation);
  walkBody(path.body, layout, {
    place: {
      ...context.shape,
      scope: innerScope(context.scope),
      member: memberLookup({ wire: () => layout.wire, insideAppliance: true, results: undefined }),
    },
    home: context.home,
    directions,
    turning: UPRIGHT,
    pathSpan: undefined,
    parts: [],
    feet: undefined,
    attachments,
    outermost: {
      recorder: context.recorder,
      kind: 'path',
      site: context.site,
      holders,
      define: context.define,
      reported: context.reported,
    },
  });
  return layout;
}

/** The section frame of a wire that sets out as the path says, with gingival up. */
function startAxes({ direction }: PathMember, directions: Directions): Mat3 {
  const tangent = direction && vectorOf(direction.text, directions);
  if (tangent?.[1] !== 0) return identityMatrix;
  const side = cross(tangent, directions.gingival);
  return [tangent[0], 0, side[0], tangent[1], 1, side[1], tangent[2], 0, side[2]];
}
