import type { PathStep } from '../resolved';
import type { Layout, Surroundings } from './layout';

/** Records a step that uses no wire, or what `about` says it uses. */
export function trace(
  layout: Layout,
  around: Surroundings,
  about: Pick<PathStep, 'kind' | 'span'> & Partial<PathStep>,
): void {
  layout.steps.push({
    uri: around.home.uri,
    pathSpan: around.pathSpan ?? about.span,
    from: layout.station,
    to: layout.station,
    angle: undefined,
    radius: undefined,
    backFrom: undefined,
    direction: undefined,
    name: undefined,
    pitch: undefined,
    elements: [layout.elements.length, layout.elements.length],
    ...about,
  });
}
