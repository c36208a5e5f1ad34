/** Links on `use` lines to the module they bring in. */
import type { DocumentLink } from 'vscode-languageserver-types';
import type { Snapshot } from '#workspace/snapshot';
import { resolveUse } from '#workspace/uri';
import { rangeOf } from './positions';

export function provideDocumentLinks(snapshot: Snapshot): DocumentLink[] {
  return snapshot.parse.tree.items.flatMap((item) => {
    if (item.kind !== 'use' || item.path === undefined) return [];
    const target = resolveUse(snapshot.uri, item.path.value);
    // A module that is not there has a problem already; a link to nowhere would add nothing.
    return snapshot.module(target) === undefined ? [] : [{ range: rangeOf(snapshot, item.path.span), target }];
  });
}
