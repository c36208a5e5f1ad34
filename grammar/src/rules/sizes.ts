import {
  Caret,
  ClauseWord,
  Dot,
  LeftParenthesis,
  Name as NameToken,
  NumberLiteral,
  ProductOperator,
  SumOperator,
  type Token,
  word,
} from '../tokens';
import type { Expression, SlotSize, WireSize } from '../tree';
import { ExpressionParser } from './expressions';
import { toName } from './recovery';

/** Sizes of wires and slots. */
export abstract class SizeParser extends ExpressionParser {
  /** `0.017 in x 0.025 in [ribbonwise] [corner 0.04 mm]`, `round 0.016 in`, or a section's name. */
  protected wireSize = this.RULE('wireSize', (): WireSize | undefined => {
    if (!this.RECORDING_PHASE && !this.startsValue() && !this.at(Round)) {
      this.reportMissing(
        'the size of the wire, such as `0.017 in x 0.025 in`, `round 0.016 in` or the name of a section',
      );
      return undefined;
    }
    const start = this.ahead(1).startOffset;
    return this.OR<WireSize>({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          GATE: () => !this.isLoneName(),
          ALT: () => {
            this.CONSUME(Round);
            this.wanted = 'the diameter, such as `0.016 in`';
            const diameter = this.SUBRULE(this.sum);
            return { kind: 'round', span: this.spanFrom(start), diameter };
          },
        },
        {
          GATE: () => this.isLoneName(),
          ALT: () => {
            const name = toName(this.CONSUME(NameToken) as Token);
            return { kind: 'named', span: name.span, name };
          },
        },
        {
          ALT: () => {
            this.wanted = HEIGHT;
            const height = this.SUBRULE2(this.sum);
            let width: Expression | undefined;
            if (this.need(1, By, '`x` and the width, such as `0.017 in x 0.025 in`') !== undefined) {
              this.wanted = 'the width, such as `0.025 in`';
              width = this.SUBRULE3(this.sum);
            }
            let ribbonwise = false;
            let corner: Expression | undefined;
            this.OPTION(() => {
              this.CONSUME(Ribbonwise);
              ribbonwise = true;
            });
            this.OPTION2(() => {
              this.CONSUME(Corner);
              this.wanted = 'the corner radius, such as `0.04 mm`';
              corner = this.SUBRULE4(this.sum);
            });
            return { kind: 'rectangle', span: this.spanFrom(start), height, width, ribbonwise, corner };
          },
        },
      ],
    });
  });

  /** `0.022 in x 0.028 in` or a slot's name. */
  protected slotSize = this.RULE('slotSize', (): SlotSize | undefined => {
    if (!this.RECORDING_PHASE && !this.startsValue()) {
      this.reportMissing('the size of the slot, such as `0.022 in x 0.028 in`, or the name of a slot');
      return undefined;
    }
    const start = this.ahead(1).startOffset;
    return this.OR<SlotSize>({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          GATE: () => this.isLoneName(),
          ALT: () => {
            const name = toName(this.CONSUME(NameToken) as Token);
            return { kind: 'named', span: name.span, name };
          },
        },
        {
          ALT: () => {
            this.wanted = HEIGHT;
            const height = this.SUBRULE(this.sum);
            let depth: Expression | undefined;
            if (this.need(1, By, '`x` and the depth, such as `0.022 in x 0.028 in`') !== undefined) {
              this.wanted = 'the depth, such as `0.028 in`';
              depth = this.SUBRULE2(this.sum);
            }
            return { kind: 'rectangle', span: this.spanFrom(start), height, depth };
          },
        },
      ],
    });
  });

  /** A name that no size begins with: nothing follows that would make it part of an expression. */
  private isLoneName(): boolean {
    if (!this.at(NameToken) || (this.inAttachment && this.at(ClauseWord))) return false;
    if (this.at(Round) && this.at(NumberLiteral, 2)) return false;
    if (this.at(Round) && this.at(NameToken, 2) && !this.startsLine(2) && !this.at(By, 2)) return false;
    const next = this.ahead(2).tokenType;
    if (next === By || next === Dot || next === Caret) return false;
    if (next === LeftParenthesis) return this.startsLine(2);
    return !this.at(SumOperator, 2) && !this.at(ProductOperator, 2);
  }
}

const Round = word('round');
const By = word('x');
const Ribbonwise = word('ribbonwise');
const Corner = word('corner');
const HEIGHT = 'the height, such as `0.017 in`';
