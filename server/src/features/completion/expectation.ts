/** What may stand at a place of the language: kinds of words, before any name is looked up. */
import { Identifier, NumberLiteral, Unit, UnitPer } from '#grammar/tokens';
import {
  clauseWords,
  functionNames,
  groupClauseWords,
  itemWords,
  memberWords,
  quadrantDirections,
  sourceStates,
  stepWords,
  unitWords,
  visitClauseWords,
} from '#grammar/words';
import { isKeyword } from '../token-at';
import type { CompletionContext } from './context';

export type Expectation =
  /** `begin` where they begin an item, a line or a step, which then has a form of its own. */
  | { readonly kind: 'words'; readonly words: readonly string[]; readonly begin?: 'line' | 'step' }
  | { readonly kind: 'clauses'; readonly words: readonly string[] }
  | { readonly kind: 'directions'; readonly words: readonly string[] }
  /** The most fitting first: `fits` is a kind of unit, or the part and the parameter whose value it is. */
  | { readonly kind: 'units'; readonly words: readonly string[]; readonly fits?: FittingUnit }
  | { readonly kind: 'functions'; readonly words: readonly string[] }
  /** Names with a value in scope. */
  | { readonly kind: 'values' }
  /** Owners of results: attachments, loops, named loads, wire, activation. */
  | { readonly kind: 'owners' }
  | {
      readonly kind:
        | 'attachments'
        | 'ends'
        | 'seats'
        | 'parts'
        | 'alloys'
        | 'sections'
        | 'slots'
        | 'appliances'
        | 'mains';
    }
  | { readonly kind: 'modules' }
  /** Parameters of the part being called that have no value yet. */
  | { readonly kind: 'parameters'; readonly part: string; readonly given: readonly string[] }
  /** Parameters of the appliance that a variant varies, without a value yet. */
  | { readonly kind: 'varied'; readonly appliance: string; readonly given: readonly string[] }
  /** Figures of an alloy that have no value yet. */
  | { readonly kind: 'properties'; readonly given: readonly string[] }
  /** What may follow the dot after these names; sizes of the wire instead of results where a shape is written. */
  | { readonly kind: 'results'; readonly path: readonly string[]; readonly shape: boolean };

export type FittingUnit = keyof typeof unitWords | { readonly part: string; readonly parameter: string };

export function expectations(context: CompletionContext): Expectation[] {
  const { statement, last, lineStart, parenthesis, quoted } = context;
  const head = statement[0]?.image ?? '';
  if (quoted !== undefined) return head === 'use' ? [{ kind: 'modules' }] : [];
  if (last?.image === '.') return [{ kind: 'results', path: pathBefore(context), shape: context.block === 'path' }];
  if (parenthesis?.kind === 'arguments' && (last?.image === '(' || last?.image === ',')) {
    return [{ kind: 'parameters', part: parenthesis.name ?? '', given: parenthesis.given }];
  }
  if (last !== undefined && !lineStart) {
    const type = last.tokenType;
    if (type === NumberLiteral) return [{ ...units, fits: fittingUnit(context) }, ...following(context)];
    if (type === Unit) return [...compound(last.image), ...following(context)];
    if (type === UnitPer) return [units];
    if (wantsOperand(context)) return operand(context);
    const next = afterWord(context);
    if (next !== undefined) return next;
    return following(context);
  }
  return [...atStart(context), ...(fittings.includes(head) && statement.length > 1 ? following(context) : [])];
}

const words = (...list: string[]): Expectation => ({ kind: 'words', words: list });
const begin = (list: readonly string[], what: 'line' | 'step' = 'line'): Expectation => ({
  kind: 'words',
  words: list,
  begin: what,
});
const units = { kind: 'units', words: Object.values(unitWords).flat() } as const;
const directions: Expectation = { kind: 'directions', words: quadrantDirections };
const functions: Expectation = { kind: 'functions', words: functionNames };
const pulling: readonly string[] = ['elastic', 'coil', 'ligature'];
const groupWords: readonly string[] = groupClauseWords;
const visitWords: readonly string[] = visitClauseWords;
const judging: readonly string[] = ['require', 'prefer'];

/** After a comma in such a line another clause may stand. */
function listsClauses(head: string): boolean {
  return fittings.includes(head) || head === 'group' || head === 'visits';
}

const fittings: readonly string[] = ['tube', 'bracket', 'hook', 'eyelet'];

/** At the start of a line: what may begin one in this block. */
function atStart({ block, givenProperties, varied }: CompletionContext): Expectation[] {
  switch (block) {
    case 'file':
      return [begin(itemWords)];
    case 'appliance':
      return [begin(memberWords)];
    case 'path':
      return [begin(stepWords, 'step'), { kind: 'parts' }];
    case 'seats':
      return [begin(['seat'], 'step')];
    case 'conditions':
      return [{ kind: 'owners' }, { kind: 'values' }, functions, words('not')];
    case 'alloy':
      return [{ kind: 'properties', given: givenProperties }];
    case 'variant':
      return [{ kind: 'varied', appliance: varied ?? '', given: givenProperties }];
    default:
      return [];
  }
}

/** Operators and words after which a value stands. */
const valueWords = [
  'straight',
  'bend',
  'preactivate',
  'twist',
  'helix',
  'diameter',
  'pitch',
  'repeat',
  'radius',
  'over',
  'length',
  'width',
  'tip',
  'rotation',
  'torque',
  'moved',
  'step',
  'in',
  'corner',
  'friction',
  'force',
  'rate',
  'rest',
  'root',
  'resistance',
  'every',
  'close',
  'activate',
  'within',
  'and',
  'or',
  'not',
];
const operatorPattern = /^(?:[=(,+*/^<>-]|\.\.|[<>=!]=)$/;

function wantsOperand({ last, statement }: CompletionContext): boolean {
  const image = last?.image ?? '';
  if (operatorPattern.test(image)) return image !== ',' || !listsClauses(statement[0]?.image ?? '');
  if (image === 'over' && judging.includes(statement[0]?.image ?? '')) return false;
  return last !== undefined && valueWords.includes(image) && isKeyword(last);
}

function operand({ block, parenthesis }: CompletionContext): Expectation[] {
  const results: Expectation[] =
    block === 'conditions' && parenthesis?.kind !== 'parameters' ? [{ kind: 'owners' }] : [];
  return [...results, { kind: 'values' }, functions];
}

/** What stands directly after a word of the language, where that is not a value. */
function afterWord({ block, statement, last }: CompletionContext): Expectation[] | undefined {
  const head = statement[0]?.image ?? '';
  if (last === undefined || !isKeyword(last)) return undefined;
  switch (last.image) {
    case 'toward':
      return [directions];
    case 'facing':
      return [{ kind: 'directions', words: ['left', 'right', 'anterior'] }];
    case 'on':
      return fittings.includes(head) || head === 'group' ? [words('tooth', 'teeth')] : [words('upper', 'lower')];
    case 'upper':
    case 'lower':
      return statement.some(({ image }) => image === 'on')
        ? [{ kind: 'directions', words: ['left', 'right'] }]
        : [words('arch')];
    case 'follow':
      return [words('beta_arch', 'catenary_arch')];
    case 'running':
      return [{ kind: 'directions', words: ['mesial', 'distal'] }];
    case 'of':
      if (head === 'group') return [{ kind: 'attachments' }];
      return [{ kind: head === 'variant' || head === 'auxiliary' ? 'appliances' : 'alloys' }];
    case 'seat':
      return [...(block === 'seats' ? [words('teeth')] : []), { kind: 'attachments' }];
    case 'through':
    case 'move':
      return [{ kind: 'attachments' }];
    case 'elastic':
    case 'coil':
    case 'ligature':
      return [words('from')];
    case 'from':
    case 'to':
      if (head === 'group') return [{ kind: 'attachments' }];
      return pulling.includes(head) ? [{ kind: 'ends' }] : undefined;
    case 'between':
      return [{ kind: 'attachments' }];
    case 'both':
      return [words('sides')];
    case 'reactivate':
      return [words('when')];
    case 'group':
      return [];
    case 'visits':
      return [words('every')];
    case 'with':
      return [words('play')];
    case 'tube':
    case 'bracket':
    case 'hook':
    case 'eyelet':
      return [{ kind: 'seats' }];
    case 'wire':
      return [words('round'), { kind: 'sections' }];
    case 'slot':
      return fittings.includes(head) ? [{ kind: 'slots' }] : [];
    case 'source':
      return [words(...sourceStates)];
    case 'require':
    case 'prefer':
      return [words('at', 'along', 'when', 'over')];
    case 'at':
      if (head === 'auxiliary') return [{ kind: 'mains' }];
      return fittings.includes(head) ? [{ kind: 'values' }, functions] : [words('activation', 'neutral')];
    case 'along':
      return [words('activation')];
    case 'when':
      return head === 'visits' ? [{ kind: 'owners' }, { kind: 'values' }, functions] : [words('engaged')];
    case 'over':
      return judging.includes(head) ? [words('visits')] : undefined;
    case 'activation':
      return head === 'activation' ? [words('pull', 'move')] : [{ kind: 'values' }, functions];
    case 'pull':
      return [words('through')];
    case 'trial':
      return [words('activation')];
    case 'path':
      return [words('running')];
    case 'flip':
      return [words('mirror'), { kind: 'parts' }];
    case 'mirror':
      return [{ kind: 'parts' }];
    // A name of the user's own comes next, or a text.
    case 'let':
    case 'param':
    case 'part':
    case 'appliance':
    case 'section':
      return block === 'path' ? [words('round'), { kind: 'sections' }] : [];
    case 'alloy':
    case 'mark':
    case 'as':
    case 'use':
    case 'because':
      return last.image === 'use' ? [{ kind: 'modules' }] : [];
    default:
      return undefined;
  }
}

/** What may follow a whole value or name in this statement. */
function following({ block, statement, parenthesis, last }: CompletionContext): Expectation[] {
  const head = statement[0]?.image ?? '';
  const has = (word: string): boolean => statement.some((token) => token.image === word && isKeyword(token));
  const unless = (...list: string[]): Expectation[] => {
    const missing = list.filter((word) => !has(word));
    return missing.length === 0 ? [] : [words(...missing)];
  };
  if (parenthesis?.kind === 'parameters') return [words('in')];
  if (parenthesis !== undefined) return [];
  if (block === 'conditions') return [...unless('because'), words('in', 'and', 'or')];
  if (block === 'alloy') return unless('in', 'source');
  if (fittings.includes(head)) {
    const offset = statement.findLast(
      (token) => isKeyword(token) && (clauseWords as readonly string[]).includes(token.image),
    );
    const afterOffset = (offset?.image === 'at' || offset?.image === 'moved') && last?.tokenType === Unit;
    const clauses: Expectation = { kind: 'clauses', words: clauseWords.filter((word) => !has(word)) };
    return afterOffset ? [directions] : [clauses];
  }
  if (head === 'group') {
    const clause = statement.findLast((token) => isKeyword(token) && groupWords.includes(token.image));
    if (clause?.image === 'resistance' && last?.tokenType === Unit) return [directions];
    const after = clause?.image === 'resistance' && !has('from') ? [words('from')] : [];
    return [...after, { kind: 'clauses', words: groupWords.filter((word) => !has(word)) }];
  }
  if (head === 'visits') {
    const after = has('close') && !has('between') ? [words('between')] : has('rate') && !has('in') ? [words('in')] : [];
    return [...after, { kind: 'clauses', words: visitWords.filter((word) => !has(word)) }];
  }
  switch (head) {
    case 'bend':
    case 'preactivate':
      if (last?.image === 'back') return [words('from')];
      if (has('back')) return [];
      return has('toward') ? unless('radius', 'back') : [words('toward')];
    case 'twist':
      return unless('over');
    case 'appliance':
      return unless('on', 'in');
    case 'variant':
      return has('of') ? unless('on', 'in') : [words('of')];
    case 'auxiliary':
      if (!has('of')) return [words('of')];
      return last?.tokenType === Unit ? [directions] : unless('at');
    case 'follow':
      return has('from') ? unless('to') : unless('from');
    case 'seat':
      return block === 'seats' && last?.tokenType === Identifier ? unless('at') : [];
    case 'elastic':
    case 'coil':
    case 'ligature':
      if (!has('from')) return [words('from')];
      if (!has('to')) return [words('to')];
      if (has('rate')) return unless('rest');
      return has('force') ? [] : [words('force', 'rate')];
    case 'helix':
      if (has('toward')) return unless('pitch');
      if (has('diameter')) return [words('toward')];
      return has('turns') || has('turn') ? [words('diameter')] : [words('turns', 'turn')];
    case 'wire':
      if (last?.image === 'stress') return [words('relieved')];
      return has('of') ? unless('stress') : unless('x', 'of', 'ribbonwise', 'corner');
    case 'section':
      if (block === 'path') return has('of') ? unless('doubled') : unless('x', 'of', 'doubled', 'ribbonwise', 'corner');
      return unless('x', 'source');
    case 'slot':
      return unless('x', 'source');
    case 'param':
      return unless('in');
    case 'activation':
      if (last?.tokenType !== Identifier) return unless('step');
      return has('move') ? [directions] : unless('toward');
    default:
      return block === 'path' && last?.image === ')' && !has('as') ? [words('as')] : [];
  }
}

/** The kind of unit of a number that stands after one of these words. */
const unitAfterWord: Readonly<Record<string, keyof typeof unitWords>> = {
  ...{ straight: 'length', diameter: 'length', pitch: 'length', radius: 'length', over: 'length', corner: 'length' },
  ...{ length: 'length', width: 'length', at: 'length', moved: 'length', through: 'length', step: 'length' },
  ...{ activation: 'length', wire: 'length', round: 'length', section: 'length', slot: 'length' },
  ...{ rest: 'length', force: 'force', rate: 'force' },
  ...{ root: 'length', resistance: 'length', close: 'length', activate: 'length', every: 'time', within: 'time' },
  ...{ bend: 'angle', preactivate: 'angle', twist: 'angle', tip: 'angle', rotation: 'angle', torque: 'angle' },
};

function fittingUnit({ parenthesis, statement }: CompletionContext): FittingUnit | undefined {
  if (parenthesis?.kind === 'arguments' && parenthesis.argument !== undefined) {
    return { part: parenthesis.name ?? '', parameter: parenthesis.argument };
  }
  const word = statement.findLast((token) => isKeyword(token) && Object.hasOwn(unitAfterWord, token.image));
  return word && unitAfterWord[word.image];
}

/** After a force a length may follow, which makes a moment; after either a `/` and a unit. */
function compound(unit: string): Expectation[] {
  return (unitWords.force as readonly string[]).includes(unit) ? [{ kind: 'units', words: unitWords.length }] : [];
}

/** The names before a dot, first to last. */
function pathBefore({ statement }: CompletionContext): string[] {
  const path: string[] = [];
  for (let index = statement.length - 1; index > 0 && statement[index].image === '.'; index -= 2) {
    path.unshift(statement[index - 1].image);
  }
  return path;
}
