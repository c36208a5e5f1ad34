import type { IOrAlt, ParserMethod, TokenType } from 'chevrotain';
import {
  Caret,
  ClauseWord,
  Comma,
  Comparison,
  Direction,
  Dot,
  Identifier,
  LeftParenthesis,
  Minus,
  Name as NameToken,
  NumberLiteral,
  ProductOperator,
  RangeDots,
  RightParenthesis,
  SumOperator,
  Text as TextToken,
  type Token,
  Unit,
  UnitPer,
  word,
} from '../tokens';
import type { BinaryExpression, Expression, Name, RangeExpression, UnitExpression } from '../tree';
import { functionNames } from '../words';
import { RecoveringParser, spanOf, toName } from './recovery';

/** Expressions: conditions, arithmetic, quantities and names. */
export abstract class ExpressionParser extends RecoveringParser {
  /** True inside an attachment, where a clause word begins the next clause and is no name. */
  protected inAttachment = false;
  /** True inside a requirement's block, where a line may begin with a function. */
  protected inConditions = false;
  /** What is missing where the next expression does not begin. */
  protected wanted = '';

  protected expression = this.RULE('expression', () => this.chain(Or, this.conjunction));

  protected conjunction = this.RULE('conjunction', () => this.chain(And, this.negation));

  protected negation = this.RULE('negation', (): Expression | undefined => {
    if (!this.RECORDING_PHASE && !this.at(Not)) return this.subrule(1, this.comparison);
    return this.OR([
      {
        ALT: () => {
          const start = (this.CONSUME(Not) as Token).startOffset;
          const operand = this.nested(() => this.operand(() => this.SUBRULE(this.negation)));
          return { kind: 'unary', span: this.spanFrom(start), operator: 'not', operand } as Expression;
        },
      },
      { ALT: () => this.SUBRULE1(this.comparison) },
    ]);
  });

  protected comparison = this.RULE('comparison', (): Expression | undefined => {
    const start = this.ahead(1).startOffset;
    const left = this.SUBRULE(this.sum);
    const stands = !this.RECORDING_PHASE && !this.at(Comparison) && !this.at(In);
    return stands ? left : this.compared(start, left);
  });

  /** `low .. high` */
  protected range = this.RULE('range', (): RangeExpression | undefined => {
    const before = this.lastEnd();
    const start = this.ahead(1).startOffset;
    this.wanted = LOW;
    const low = this.SUBRULE(this.sum);
    const dots = this.need(1, RangeDots, '`..` and the upper end of the range, such as `0 mm .. 3 mm`');
    this.wanted = HIGH;
    const high = this.RECORDING_PHASE || dots !== undefined ? this.SUBRULE2(this.sum) : undefined;
    return this.lastEnd() === before ? undefined : { span: this.spanFrom(start), low, high };
  });

  protected sum = this.RULE('sum', () => this.chain(SumOperator, this.product));

  protected product = this.RULE('product', () => this.chain(ProductOperator, this.power));

  protected power = this.RULE('power', (): Expression | undefined => {
    if (!this.RECORDING_PHASE && !this.startsValue()) {
      this.reportMissing(this.wanted);
      return undefined;
    }
    return this.OR(this.powers);
  });

  private readonly powers: IOrAlt<Expression | undefined>[] = [
    {
      ALT: () => {
        const start = (this.CONSUME(Minus) as Token).startOffset;
        const operand = this.nested(() => this.operand(() => this.SUBRULE(this.power)));
        return { kind: 'unary', span: this.spanFrom(start), operator: '-', operand };
      },
    },
    {
      ALT: () => {
        const start = this.ahead(1).startOffset;
        const base = this.SUBRULE(this.primary);
        return this.RECORDING_PHASE || this.at(Caret) ? this.raised(start, base) : base;
      },
    },
  ];

  protected primary = this.oneOf<Expression | undefined>('primary', [
    { ALT: () => this.SUBRULE(this.quantity) },
    { ALT: () => this.SUBRULE(this.reference) },
    {
      ALT: () => {
        const start = (this.CONSUME(LeftParenthesis) as Token).startOffset;
        const inner = this.parenthesized(IN_PARENTHESES, () => this.SUBRULE(this.expression));
        this.closeParenthesis(1);
        return { kind: 'group', span: this.spanFrom(start), inner };
      },
    },
  ]);

  /** `7 mm`, `0.6`, `80 %` */
  protected quantity = this.RULE('quantity', (): Expression => {
    const token = this.CONSUME(NumberLiteral) as Token;
    const unit = this.OPTION(() => this.SUBRULE(this.unit));
    const numberSpan = spanOf(token);
    return { kind: 'quantity', span: this.spanFrom(token.startOffset), number: Number(token.image), numberSpan, unit };
  });

  /** `mm`, `N mm`, `gf/mm` */
  protected unit = this.RULE('unit', (): UnitExpression => {
    const first = this.CONSUME(Unit) as Token;
    const numerator = [toName(first)];
    const denominator: Name[] = [];
    this.MANY(() => numerator.push(toName(this.CONSUME2(Unit) as Token)));
    this.MANY2(() => {
      this.CONSUME(UnitPer);
      denominator.push(toName(this.CONSUME3(Unit) as Token));
    });
    return { span: this.spanFrom(first.startOffset), numerator, denominator };
  });

  /** A name, a result such as `canine.force.distal`, or a function's call. */
  protected reference = this.RULE('reference', (): Expression => {
    const first = this.CONSUME(NameToken) as Token;
    const name = toName(first);
    const path = [name];
    let dotted = false;
    let call: Expression | undefined;
    this.MANY(() => {
      dotted = true;
      this.CONSUME(Dot);
      // A name after a dot stands on its line: a half-typed line must not swallow the next one.
      if (this.RECORDING_PHASE || (this.at(NameToken) && !this.startsLine())) {
        path.push(toName(this.CONSUME2(NameToken) as Token));
      } else this.reportMissing('a name after the dot, such as `canine.force.distal`');
    });
    this.OPTION({
      GATE: () => !dotted && !this.startsLine(),
      DEF: () => {
        this.CONSUME(LeftParenthesis);
        const values: (Expression | undefined)[] = [];
        this.MANY_SEP({
          SEP: Comma,
          DEF: () => {
            if (!this.RECORDING_PHASE && this.at(RightParenthesis)) return;
            values.push(this.parenthesized(OPERAND, () => this.SUBRULE(this.expression)));
          },
        });
        this.closeParenthesis(1);
        call = { kind: 'function', span: this.spanFrom(first.startOffset), name, arguments: values };
      },
    });
    if (call !== undefined) return call;
    if (dotted) return { kind: 'member', span: this.spanFrom(first.startOffset), path };
    return { kind: 'name', span: name.span, name };
  });

  // What most expressions have none of is in methods of its own, so that nothing is made for it.

  /** Operands with operators of one kind between them, joined from the left. */
  private chain(operators: TokenType, operand: Rule): Expression | undefined {
    const start = this.ahead(1).startOffset;
    const first = this.SUBRULE(operand);
    return this.RECORDING_PHASE || this.at(operators) ? this.chained(start, first, operators, operand) : first;
  }

  private chained(start: number, first: Expression | undefined, operators: TokenType, operand: Rule) {
    let left = first;
    let count = 0;
    this.MANY(() => {
      const operator = this.CONSUME(operators) as Token;
      this.wanted = OPERAND;
      const right = this.SUBRULE2(operand);
      if (this.withinLength(++count)) left = binary(start, left, operator, right, this.lastEnd());
    });
    return left;
  }

  private compared(start: number, left: Expression | undefined): Expression | undefined {
    let result = left;
    this.OPTION(() => {
      this.OR([
        {
          ALT: () => {
            const operator = this.CONSUME(Comparison) as Token;
            this.wanted = OPERAND;
            result = binary(start, left, operator, this.SUBRULE2(this.sum), this.lastEnd());
          },
        },
        {
          ALT: () => {
            this.CONSUME(In);
            const range = this.SUBRULE(this.range);
            result = { kind: 'within', span: this.spanFrom(start), value: left, range };
          },
        },
      ]);
    });
    return result;
  }

  private raised(start: number, base: Expression | undefined): Expression | undefined {
    let result = base;
    this.OPTION(() => {
      const operator = this.CONSUME(Caret) as Token;
      const right = this.nested(() => this.operand(() => this.SUBRULE2(this.power)));
      result = binary(start, base, operator, right, this.lastEnd());
    });
    return result;
  }

  /** Whether a part's call begins here on a line of its own: the line above is half typed. */
  private beginsPart(): boolean {
    const token = this.ahead(1);
    return !this.inConditions && token.firstOnLine && this.at(LeftParenthesis, 2) && !functions.has(token.image);
  }

  private operand<T>(rule: () => T): T {
    this.wanted = OPERAND;
    return rule();
  }

  /** Runs `rule` where every unreserved word is a name again. */
  private parenthesized<T>(what: string, rule: () => T): T | undefined {
    const outer = this.inAttachment;
    this.inAttachment = false;
    this.wanted = what;
    const result = this.nested(rule);
    this.inAttachment = outer;
    return result;
  }

  /** Takes `)`, passing over what stands before it on the line. */
  protected closeParenthesis(occurrence: number): void {
    if (!this.RECORDING_PHASE && !this.at(RightParenthesis)) {
      this.reportMissing('`)`');
      if (!this.skipTo(RightParenthesis)) return;
    }
    this.consume(occurrence, RightParenthesis);
  }

  /**
   * Whether a value begins here. A word of the language directly before a number or a text begins its own clause
   * (`step 0.5 mm`), and so does a clause word of an attachment.
   */
  protected override startsValue(): boolean {
    const type = this.LA(1).tokenType;
    if (type === NumberLiteral) return true;
    if (this.beginsItem() || this.beginsPart()) return false;
    if (type === Identifier) return true;
    if (type === LeftParenthesis || type === Minus) return true;
    if (!this.at(NameToken)) return false;
    if (this.inAttachment && this.at(ClauseWord)) return false;
    return type === Direction || (!this.at(NumberLiteral, 2) && !this.at(TextToken, 2));
  }
}

type Rule = ParserMethod<[], Expression | undefined>;

const functions: ReadonlySet<string> = new Set(functionNames);

const Or = word('or');
const And = word('and');
const Not = word('not');
const In = word('in');

const OPERAND = 'a value, such as `7 mm`';
const LOW = 'the lower end of a range, such as `0 mm .. 3 mm`';
const HIGH = 'the upper end of the range, such as `0 mm .. 3 mm`';
const IN_PARENTHESES = 'a value inside the parentheses';

function binary(
  start: number,
  left: Expression | undefined,
  operator: Token,
  right: Expression | undefined,
  end: number,
): BinaryExpression {
  return {
    kind: 'binary',
    span: { start, end },
    operator: operator.image as BinaryExpression['operator'],
    operatorSpan: spanOf(operator),
    left,
    right,
  };
}
