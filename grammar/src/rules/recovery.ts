import { EmbeddedActionsParser, EOF, type IOrAlt, type TokenType, tokenMatcher } from 'chevrotain';
import {
  Comma,
  Comparison,
  Equals,
  Identifier,
  itemStarts,
  LeftBrace,
  LeftParenthesis,
  memberStarts,
  Name as NameToken,
  NumberLiteral,
  Pulling,
  RightBrace,
  shorten,
  stepStarts,
  Text as TextToken,
  type Token,
  vocabulary,
  word,
} from '../tokens';
import type { Name, Span, SyntaxProblem, Text } from '../tree';
import { reservedWords } from '../words';

/** The kinds of list whose lines the parser tells apart when it finds its way again. */
export type Block = 'file' | 'alloy' | 'variant' | 'appliance' | 'path' | 'conditions';

/**
 * How the parser goes on over a mistake. Its rules never raise: what is missing is reported and left out, what does
 * not fit is reported and passed over up to the next line or word that can begin something.
 */
export abstract class RecoveringParser extends EmbeddedActionsParser {
  problems: SyntaxProblem[] = [];
  /** End of the last token before the last problem: a second complaint about one place helps nobody. */
  private lastProblemAfter = -1;
  private lastProblemRow = -1;
  private nesting = 0;

  constructor() {
    super(vocabulary, { recoveryEnabled: false, maxLookahead: 1 });
  }

  /** A rule that is one of several; its alternatives are made once, not each time it is tried. */
  protected oneOf<T>(name: string, alternatives: IOrAlt<T>[], options: { ambiguous?: boolean } = {}) {
    const choice = { DEF: alternatives, IGNORE_AMBIGUITIES: options.ambiguous === true };
    return this.RULE(name, (): T => this.OR<T>(choice));
  }

  /** Prepares for a text; its tokens are set by `input`. */
  protected begin(tokens: Token[]): void {
    this.input = tokens;
    this.problems = [];
    this.lastProblemAfter = -1;
    this.lastProblemRow = -1;
    this.nesting = 0;
  }

  protected ahead(distance: number): Token {
    return this.LA(distance) as Token;
  }

  protected at(type: TokenType, distance = 1): boolean {
    return tokenMatcher(this.LA(distance), type);
  }

  protected atEnd(): boolean {
    return this.LA(1).tokenType === EOF;
  }

  /** Whether the token begins a line; the end of the text does. */
  protected startsLine(distance = 1): boolean {
    const token = this.ahead(distance);
    return token.tokenType === EOF || token.firstOnLine;
  }

  /** End of the last token taken. */
  protected lastEnd(): number {
    const token = this.ahead(0);
    return token.tokenType === EOF ? 0 : token.end;
  }

  protected spanFrom(start: number): Span {
    return { start, end: this.lastEnd() };
  }

  /** From `start` to the last token taken, or the empty place at `before` where none was taken since. */
  protected spanSince(before: number, start: number): Span {
    return this.lastEnd() === before ? { start: before, end: before } : this.spanFrom(start);
  }

  /** Takes a token of the type, or reports that it is missing. */
  protected need(occurrence: number, type: TokenType, wanted: string): Token | undefined {
    if (this.RECORDING_PHASE || this.at(type)) return this.consume(occurrence, type) as Token;
    this.reportMissing(wanted);
    return undefined;
  }

  /** Takes a name. A part's call on the next line is no name. */
  protected needName(occurrence: number, wanted: string): Name | undefined {
    if (this.RECORDING_PHASE) return toName(this.consume(occurrence, NameToken) as Token);
    if (this.at(NameToken) && !(this.startsLine() && this.at(LeftParenthesis, 2))) {
      return toName(this.consume(occurrence, NameToken) as Token);
    }
    const token = this.ahead(1);
    if (reservedWords.has(token.image) && !token.firstOnLine && this.endsHere(2)) {
      this.report(
        spanOf(token),
        `\`${token.image}\` is a word of the language and cannot be a name. Choose another, such as \`${token.image}_1\`.`,
      );
      return toName(this.skipAndKeep());
    }
    this.reportMissing(wanted);
    return undefined;
  }

  protected needText(occurrence: number, wanted: string): Text | undefined {
    const token = this.need(occurrence, TextToken, wanted);
    if (token === undefined) return undefined;
    const closed = token.image.length > 1 && token.image.endsWith('"');
    return { value: token.image.slice(1, closed ? -1 : undefined), span: spanOf(token) };
  }

  /** Opens a block, passing over what stands between on the line. Undefined where there is no brace. */
  protected openBlock(occurrence: number, owner: string): Token | undefined {
    if (!this.RECORDING_PHASE && !this.at(LeftBrace)) {
      this.reportMissing(`\`{\` to open ${owner}`);
      if (!this.skipTo(LeftBrace)) return undefined;
    }
    return this.consume(occurrence, LeftBrace) as Token;
  }

  /** Passes over tokens up to one of the type, where it is near and on this line. */
  protected skipTo(type: TokenType): boolean {
    let distance = 1;
    while (!this.at(type, distance)) {
      if (this.startsLine(distance) || distance > farthest) return false;
      distance++;
    }
    for (; distance > 1; distance--) this.SKIP_TOKEN();
    return true;
  }

  protected closeBlock(occurrence: number, open: Token, owner: string): void {
    if (this.RECORDING_PHASE || this.at(RightBrace)) this.consume(occurrence, RightBrace);
    else this.report(spanOf(open), `The \`{\` of ${owner} is not closed. Add \`}\` after its last line.`);
  }

  /** Passes over what cannot stand at this place of a block and reports it once. */
  protected skipStray(block: Block): void {
    if (this.RECORDING_PHASE || this.begins(block) || this.closes(block)) return;
    const first = this.ahead(1);
    const message = this.describeStray(block);
    const problemRow = this.lastProblemRow;
    let depth = 0;
    do {
      if (this.at(LeftBrace)) depth++;
      else if (this.at(RightBrace)) depth = Math.max(0, depth - 1);
      this.SKIP_TOKEN();
    } while (!this.atEnd() && (depth > 0 ? !this.beginsItem() : !this.resumes(block)));
    // What follows a mistake on its line is part of the same mistake.
    if (problemRow !== first.row) this.report(spanOf(first), message);
  }

  /** Runs `body` unless parentheses, signs or blocks are nested beyond what anybody writes. */
  protected nested<T>(body: () => T): T | undefined {
    if (this.nesting >= deepest) {
      const token = this.ahead(1);
      this.report(
        spanOf(token, this.lastEnd()),
        'This is nested too deeply. Name a part of it with `let` and use the name.',
      );
      do this.SKIP_TOKEN();
      while (!this.startsLine());
      return undefined;
    }
    this.nesting++;
    const result = body();
    this.nesting--;
    return result;
  }

  /** Whether an expression may have so many operators in a row; reports the first beyond. */
  protected withinLength(operators: number): boolean {
    if (operators === longest + 1) {
      const message = 'This expression is too long. Name a part of it with `let` and use the name.';
      this.report(this.spanFrom(this.ahead(0).startOffset), message);
    }
    return operators <= longest;
  }

  protected reportMissing(wanted: string): void {
    const next = this.ahead(1);
    const previous = this.ahead(0);
    if (!this.startsLine()) this.report(spanOf(next), `Expected ${wanted}, not \`${shorten(next.image)}\`.`);
    else if (previous.tokenType === EOF) this.report({ start: 0, end: 0 }, `Expected ${wanted}.`);
    else {
      const pause = wanted.includes(',') ? ',' : '';
      this.report(spanOf(previous), `Expected ${wanted}${pause} after \`${shorten(previous.image)}\`.`);
    }
  }

  protected report(span: Span, message: string): void {
    const after = this.lastEnd();
    if (after === this.lastProblemAfter) return;
    this.lastProblemAfter = after;
    this.lastProblemRow = this.ahead(0).row;
    this.problems.push({ span, message });
  }

  protected beginsItem(): boolean {
    const type = this.LA(1).tokenType;
    if (!itemStarts.has(type) || type === letWord) return false;
    if (type === sectionWord || type === slotWord) return this.at(NameToken, 2) && this.at(Equals, 3);
    return this.startsLine();
  }

  protected skipAndKeep(): Token {
    this.SKIP_TOKEN();
    return this.ahead(0);
  }

  /** Whether a value begins here. */
  protected abstract startsValue(): boolean;

  private describeStray(block: Block): string {
    const token = this.ahead(1);
    const image = shorten(token.image);
    const type = token.tokenType;
    if (type === RightBrace) return 'This `}` closes nothing. Remove it, or add the `{` it belongs to.';
    if (type === Comma && this.at(NumberLiteral, 0) && this.at(NumberLiteral, 2)) {
      return `Decimals are written with a point: \`${this.ahead(0).image}.${this.ahead(2).image}\`.`;
    }
    if (type === Equals && block === 'conditions')
      return 'To compare, write `==`, `<=`, `>=`, `<`, `>` or `in low .. high`.';
    if (type === Comma && block === 'conditions')
      return 'Conditions need no commas. Remove it, or put each on a line of its own.';
    if (block !== 'appliance' && memberStarts.has(type)) {
      return `\`${image}\` stands inside an appliance: \`appliance name { … }\`. Check the braces above.`;
    }
    if (block !== 'path' && stepStarts.has(type)) {
      return `\`${image}\` stands inside a path or a part: \`path running mesial { … }\`. Check the braces above.`;
    }
    if (type !== Identifier) return `Expected ${contents[block]}, not \`${image}\`.`;
    return `\`${image}\` is no word that can stand here. Expected ${contents[block]}.`;
  }

  /** Whether the grammar's own list of the block goes on here. */
  private begins(block: Block): boolean {
    const type = this.LA(1).tokenType;
    switch (block) {
      case 'file':
        return itemStarts.has(type);
      case 'alloy':
      case 'variant':
        return this.at(NameToken) && !this.beginsItem();
      case 'appliance':
        return memberStarts.has(type);
      case 'path':
        return (stepStarts.has(type) || this.at(NameToken)) && !this.beginsItem();
      case 'conditions':
        return this.beginsCondition();
    }
  }

  /** Whether the block ends here, be it that its brace is missing. */
  private closes(block: Block): boolean {
    if (this.atEnd()) return true;
    if (block === 'file') return false;
    if (this.at(RightBrace) || this.beginsItem()) return true;
    return (block === 'path' || block === 'conditions') && this.startsLine() && this.beginsMember();
  }

  /** Whether a line of an appliance begins here; a lone `wire` or `activation` is a result half typed. */
  private beginsMember(): boolean {
    const type = this.LA(1).tokenType;
    if (type === wireWord || type === activationWord) return !this.startsLine(2) && !this.at(Comparison, 2);
    // A load's word may be a name of the user's too: `coil()`, `elastic.force`.
    if (this.at(Pulling)) return this.at(NameToken, 2) && !this.startsLine(2);
    return memberStarts.has(type);
  }

  /** Whether a block surely goes on here after something that did not fit. */
  private resumes(block: Block): boolean {
    if (this.closes(block)) return true;
    const type = this.LA(1).tokenType;
    switch (block) {
      case 'alloy':
      case 'variant':
        return this.at(NameToken) && this.at(Equals, 2);
      case 'path':
        if (this.at(NameToken)) return this.startsLine() || this.at(LeftParenthesis, 2);
        return stepStarts.has(type);
      case 'conditions':
        return this.startsLine() && this.beginsCondition();
      case 'file':
        return itemStarts.has(type) && (this.startsLine() || this.beginsItem());
      case 'appliance':
        return this.begins(block);
    }
  }

  private beginsCondition(): boolean {
    return this.LA(1).tokenType === notWord || this.startsValue();
  }

  /** Whether the line, or what it can say, is over at the token. */
  private endsHere(distance: number): boolean {
    return this.startsLine(distance) || this.at(Equals, distance) || this.at(LeftBrace, distance);
  }
}

export function spanOf(token: Token, fallback = 0): Span {
  return token.tokenType === EOF ? { start: fallback, end: fallback } : { start: token.startOffset, end: token.end };
}

export function toName(token: Token): Name {
  return { text: token.image, span: { start: token.startOffset, end: token.end } };
}

/** Deepest nesting of parentheses, signs, powers and blocks. */
const deepest = 32;
/** How many tokens ahead a closing mark is looked for. */
const farthest = 20;
/** Most operators of one kind in a row. */
const longest = 200;

const wireWord = word('wire');
const activationWord = word('activation');
const letWord = word('let');
const sectionWord = word('section');
const slotWord = word('slot');
const notWord = word('not');

const contents: Readonly<Record<Block, string>> = {
  file: '`use`, `let`, `alloy`, `section`, `slot`, `part`, `appliance` or `variant`',
  alloy: 'a property, such as `modulus = 66 GPa`',
  variant: 'a parameter of the appliance with its value, such as `loop_height = 10 mm`',
  appliance:
    '`wire`, `param`, `let`, `path`, an attachment, a load (`elastic`, `coil`, `ligature`), `group`, `activation`, `trial activation`, `visits`, `require` or `prefer`',
  path: 'a step, such as `straight 8 mm`, or a part, such as `closed_loop()`',
  conditions: 'a condition, such as `canine.force.distal in 100 gf .. 150 gf`',
};
