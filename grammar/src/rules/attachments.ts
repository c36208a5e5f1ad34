import { ClauseWord, Comma, Fitting, Identifier, NumberLiteral, Pulling, RangeDots, type Token, word } from '../tokens';
import type { AttachmentClause, AttachmentMember, Name, Offset, TeethRange } from '../tree';
import { toName } from './recovery';
import { StepParser } from './steps';

/** Tubes, brackets, hooks and eyelets. */
export abstract class AttachmentParser extends StepParser {
  /** `tube molar slot 0.022 in x 0.028 in, length 4 mm` */
  protected attachment = this.RULE('attachment', (): AttachmentMember => {
    const first = this.CONSUME(Fitting) as Token;
    const fitting = first.image as AttachmentMember['fitting'];
    this.inAttachment = true;
    let name: Name | undefined;
    const clauses: AttachmentClause[] = [];
    if (this.RECORDING_PHASE || !this.at(ClauseWord)) {
      name = this.needName(1, `a name for the ${fitting}, such as \`${fitting} molar\``);
    } else if (!this.at(On)) this.reportMissing(`a name for the ${fitting}, such as \`${fitting} molar\``);
    this.MANY({
      GATE: () => !this.beginsItem(),
      DEF: () => {
        this.OPTION(() => this.CONSUME(Comma));
        if (this.RECORDING_PHASE || this.at(ClauseWord)) clauses.push(this.SUBRULE(this.clause));
        else this.reportMissing(CLAUSE);
      },
    });
    this.inAttachment = false;
    return { kind: 'attachment', span: this.spanFrom(first.startOffset), doc: first.doc, fitting, name, clauses };
  });

  protected clause = this.oneOf<AttachmentClause>('clause', [
    {
      ALT: () => {
        const start = this.CONSUME(On).startOffset;
        const teeth = this.SUBRULE(this.teeth);
        return { kind: 'on', span: this.spanFrom(start), teeth };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Facing).startOffset;
        const direction = this.SUBRULE(this.direction);
        return { kind: 'facing', span: this.spanFrom(start), direction };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Slot).startOffset;
        const size = this.SUBRULE(this.slotSize);
        return { kind: 'slot', span: this.spanFrom(start), size };
      },
    },
    {
      ALT: () => {
        const keyword = toName(this.SUBRULE(this.extent));
        this.wanted = `the ${keyword.text} of the slot, such as \`3 mm\``;
        const value = this.SUBRULE(this.sum);
        return { kind: 'length', span: this.spanFrom(keyword.span.start), keyword, value };
      },
    },
    {
      ALT: () => {
        const { image, startOffset } = this.SUBRULE(this.placing);
        const offsets: Offset[] = [this.SUBRULE(this.offset)];
        this.MANY({
          GATE: () => this.startsValue() && !(this.startsLine() && (this.at(Identifier) || this.at(Pulling))),
          DEF: () => {
            offsets.push(this.SUBRULE2(this.offset));
          },
        });
        return { kind: image as 'at' | 'moved', span: this.spanFrom(startOffset), offsets };
      },
    },
    {
      ALT: () => {
        const { image, startOffset } = this.SUBRULE(this.turn);
        this.wanted = 'an angle, such as `5 deg`';
        const value = this.SUBRULE2(this.sum);
        return { kind: image as 'tip' | 'rotation' | 'torque', span: this.spanFrom(startOffset), value };
      },
    },
    {
      ALT: () => {
        const { image, startOffset } = this.SUBRULE(this.hold);
        return { kind: image as 'tied' | 'sliding' | 'cinched', span: this.spanFrom(startOffset) };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(With).startOffset;
        this.need(1, Play, '`play`, as in `with play`');
        return { kind: 'play', span: this.spanFrom(start) };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Friction).startOffset;
        this.wanted = 'the coefficient of friction, such as `0.15`';
        const value = this.SUBRULE3(this.sum);
        return { kind: 'friction', span: this.spanFrom(start), value };
      },
    },
  ]);

  /** `tooth 16`, `teeth 15 .. 25`, `teeth 15 13 23` */
  protected teeth = this.RULE('teeth', (): TeethRange[] => {
    const list: TeethRange[] = [];
    if (!this.RECORDING_PHASE && !this.at(Tooth) && !this.at(Teeth)) {
      this.reportMissing('`tooth` and its number, such as `on tooth 16`');
      return list;
    }
    this.OR([{ ALT: () => this.CONSUME(Tooth) }, { ALT: () => this.CONSUME(Teeth) }]);
    if (!this.RECORDING_PHASE && !this.at(NumberLiteral)) this.reportMissing(TOOTH);
    this.MANY(() => {
      list.push(this.SUBRULE(this.teethRange));
    });
    return list;
  });

  protected teethRange = this.RULE('teethRange', (): TeethRange => {
    const from = toName(this.CONSUME(NumberLiteral) as Token);
    let to: Name | undefined;
    this.OPTION(() => {
      this.CONSUME(RangeDots);
      const last = this.need(2, NumberLiteral, TOOTH);
      to = last && toName(last);
    });
    return { span: this.spanFrom(from.span.start), from, to };
  });

  protected extent = this.oneOf<Token>('extent', [
    { ALT: () => this.CONSUME(Length) as Token },
    { ALT: () => this.CONSUME(Width) as Token },
  ]);

  protected hold = this.oneOf<Token>('hold', [
    { ALT: () => this.CONSUME(Tied) as Token },
    { ALT: () => this.CONSUME(Sliding) as Token },
    { ALT: () => this.CONSUME(Cinched) as Token },
  ]);

  protected placing = this.oneOf<Token>('placing', [
    { ALT: () => this.CONSUME(At) as Token },
    { ALT: () => this.CONSUME(Moved) as Token },
  ]);

  protected turn = this.oneOf<Token>('turn', [
    { ALT: () => this.CONSUME(Tip) as Token },
    { ALT: () => this.CONSUME(Rotation) as Token },
    { ALT: () => this.CONSUME(Torque) as Token },
  ]);

  /** `23 mm mesial` */
  protected offset = this.RULE('offset', (): Offset => {
    const before = this.lastEnd();
    const start = this.ahead(1).startOffset;
    this.wanted = 'a distance and a direction, such as `23 mm mesial`';
    const value = this.SUBRULE(this.sum);
    const direction = this.SUBRULE(this.direction);
    return { span: this.spanSince(before, start), value, direction };
  });
}

const On = word('on');
const Facing = word('facing');
const Tooth = word('tooth');
const Teeth = word('teeth');
const Slot = word('slot');
const Length = word('length');
const Width = word('width');
const At = word('at');
const Moved = word('moved');
const Tip = word('tip');
const Rotation = word('rotation');
const Torque = word('torque');
const Tied = word('tied');
const Sliding = word('sliding');
const Cinched = word('cinched');
const With = word('with');
const Play = word('play');
const Friction = word('friction');
const CLAUSE =
  'a clause: `on tooth`, `facing`, `slot`, `length`, `width`, `at`, `moved`, `tip`, `rotation`, `torque`, `tied`, `sliding`, `cinched`, `with play` or `friction`';
const TOOTH = 'the number of a tooth, such as `16`';
