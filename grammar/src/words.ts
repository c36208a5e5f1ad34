/**
 * The words of the language, for the parser, completion and highlighting. What a word means is not known here.
 */

/** Words that begin an item of a file. */
export const itemWords = [
  'use',
  'let',
  'alloy',
  'section',
  'slot',
  'part',
  'appliance',
  'variant',
  'auxiliary',
] as const;

/** Words that begin a load, where one can stand; everywhere else they are names. */
export const loadWords = ['elastic', 'coil', 'ligature'] as const;

/** Words that begin a line of an appliance. */
export const memberWords = [
  'wire',
  'param',
  'let',
  'path',
  'tube',
  'bracket',
  'hook',
  'eyelet',
  ...loadWords,
  'group',
  'activation',
  'trial',
  'gauge',
  'visits',
  'require',
  'prefer',
] as const;

/** Words that begin a step of a path or a part. */
export const stepWords = [
  'straight',
  'bend',
  'preactivate',
  'twist',
  'helix',
  'seat',
  'mark',
  'foot',
  'follow',
  'section',
  'let',
  'flip',
  'mirror',
  'repeat',
] as const;

/** Words that begin a clause of an attachment. */
export const clauseWords = [
  'on',
  'facing',
  'slot',
  'length',
  'width',
  'at',
  'moved',
  'tip',
  'rotation',
  'torque',
  'tied',
  'sliding',
  'cinched',
  'with',
  'friction',
] as const;

/** Words that begin a clause of a group of teeth. */
export const groupClauseWords = ['of', 'on', 'resistance', 'root', 'both'] as const;

/** Words that begin a clause of the visits. */
export const visitClauseWords = ['every', 'close', 'activate', 'reactivate', 'rate', 'within'] as const;

/** Words that stand inside a line. */
export const connectingWords = [
  'of',
  'x',
  'round',
  'ribbonwise',
  'corner',
  'doubled',
  'stress',
  'relieved',
  'in',
  'running',
  'upper',
  'lower',
  'tooth',
  'teeth',
  'toward',
  'radius',
  'back',
  'over',
  'turns',
  'turn',
  'diameter',
  'pitch',
  'as',
  'play',
  'from',
  'to',
  'force',
  'rest',
  'sides',
  'between',
  'pull',
  'through',
  'move',
  'step',
  'along',
  'neutral',
  'when',
  'engaged',
  'because',
  'source',
  'and',
  'or',
  'not',
] as const;

/** How a figure is known; stands after `source`. */
export const sourceStates = ['found', 'memory', 'practice', 'computed'] as const;

/** Directions of one quadrant, with its part of the arch straightened. */
export const quadrantDirections = ['mesial', 'distal', 'gingival', 'occlusal', 'buccal', 'lingual'] as const;

/** Directions of a whole arch; left and right are the patient's. */
export const archDirections = ['anterior', 'posterior', 'left', 'right', 'gingival', 'occlusal'] as const;

export const directionWords = [...quadrantDirections, 'anterior', 'posterior', 'left', 'right'] as const;

export const functionNames = ['min', 'max', 'abs', 'sqrt', 'sin', 'cos', 'tan', 'asin', 'acos', 'atan', 'arc'] as const;

/** Unit words by kind. A force word may be followed by a length word: `2 N mm`. */
export const unitWords = {
  length: ['mm', 'cm', 'm', 'in'],
  angle: ['deg', 'rad'],
  force: ['N', 'cN', 'mN', 'gf', 'kgf'],
  stress: ['MPa', 'GPa', 'kPa', 'Pa'],
  share: ['%'],
  time: ['s', 'min', 'h', 'day', 'days', 'week', 'weeks', 'month', 'months'],
} as const;

/**
 * Words that are never names of the user's. Every other word of the language means something in one place
 * only and stays free as a name: `param width = 3 mm`. After a dot every word is a name: `loop.wire`.
 */
export const reservedWords: ReadonlySet<string> = new Set<string>([
  ...itemWords.filter((word) => word !== 'section' && word !== 'slot'),
  ...memberWords.filter((word) => !(loadWords as readonly string[]).includes(word)),
  ...stepWords.filter((word) => word !== 'section'),
  'of',
  'in',
  'toward',
  'as',
  'because',
  'and',
  'or',
  'not',
]);

/** Every word with a meaning of its own in some place, directions and units aside. */
export const keywords: readonly string[] = [
  ...new Set<string>([
    ...itemWords,
    ...memberWords,
    ...stepWords,
    ...clauseWords,
    ...groupClauseWords,
    ...visitClauseWords,
    ...connectingWords,
  ]),
];
