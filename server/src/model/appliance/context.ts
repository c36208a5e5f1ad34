import type { ApplianceItem, ApplianceMember, Span } from '#grammar/tree';
import { duplicateMember } from '../diagnostics/duplicate-member';
import type { Place } from '../expression/place';
import type { Recorder, Scope } from '../names/scope';
import type { Problem } from '../problem';
import type { Definition, Home } from '../resolved';
import type { Site } from '../site';
import type { Wire } from '../wire';

/** The appliance that is being resolved. */
export interface ApplianceContext {
  readonly node: ApplianceItem;
  readonly site: Site;
  readonly home: Home;
  readonly recorder: Recorder;
  readonly scope: Scope;
  wire(): Wire | undefined;
  /** The alloy that the wire's line names. */
  alloy(): Definition | undefined;
  /** Where the shape is written: results have no place there. */
  readonly shape: Place;
  /** Where results may be used; their numbers are not known yet. */
  readonly results: Place;
  /** Adds a name to the appliance, or reports that it is taken. */
  define(definition: Definition): void;
  /** Whether the same finding has been made in that file already. */
  reported(uri: string, problem: Problem): boolean;
}

export function membersOf<K extends ApplianceMember['kind']>(
  node: ApplianceItem,
  kind: K,
): readonly Extract<ApplianceMember, { kind: K }>[] {
  return node.members.filter((member): member is Extract<ApplianceMember, { kind: K }> => member.kind === kind);
}

/** The one member of a kind of which there can be only one; others are reported. */
export function onlyMember<K extends ApplianceMember['kind']>(
  { node, home, recorder }: ApplianceContext,
  kind: K,
  what: string,
): Extract<ApplianceMember, { kind: K }> | undefined {
  const [first, ...others] = membersOf(node, kind);
  for (const other of others) {
    recorder.problem(duplicateMember.at(headOf(other.span, home.text), what, { uri: home.uri, span: first.span }));
  }
  return first;
}

/** The first word of a construct, to mark a whole block by. */
export function headOf({ start, end }: Span, text: string): Span {
  const word = /^\w+/.exec(text.slice(start, end))?.[0] ?? '';
  return { start, end: start + Math.max(word.length, 1) };
}

/** A block that is still being typed has had its syntax problem. */
export function isClosed({ end }: Span, text: string): boolean {
  return text[end - 1] === '}';
}
