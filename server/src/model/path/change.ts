/** Where the wire becomes another: of another section, another alloy, or doubled. */
import type { ChangeStep } from '#grammar/tree';
import { sectionInPart } from '../diagnostics/section-in-part';
import { findOfKind } from '../names/lookup';
import { alloyOf, resolveSection } from '../wire';
import type { Layout, Surroundings } from './layout';
import { trace } from './trace';

export function walkChange(item: ChangeStep, layout: Layout, around: Surroundings): void {
  const { place } = around;
  const section = resolveSection(item.size, place);
  const named = item.alloy && findOfKind('alloy', item.alloy, place);
  const alloy = item.alloy ? named && alloyOf(named) : layout.wire?.alloy;
  trace(layout, around, { kind: 'section', span: item.span });
  if (around.parts.length > 0) {
    place.recorder.problem(sectionInPart.at(item.span));
    layout.complete = false;
    return;
  }
  if (!section || !alloy) {
    layout.complete = false;
    return;
  }
  const stock = { section, alloy, count: item.doubled ? 2 : 1 };
  layout.wire = { ...stock, stressRelieved: layout.wire?.stressRelieved };
  layout.stock = stock;
}
