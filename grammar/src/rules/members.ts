import {
  Caret,
  ClauseWord,
  Comma,
  Dot,
  Equals,
  Fitting,
  Identifier,
  LeftParenthesis,
  Name as NameToken,
  NumberLiteral,
  ProductOperator,
  SumOperator,
  type Token,
  word,
} from '../tokens';
import type {
  ActivationMember,
  ApplianceMember,
  AttachmentClause,
  AttachmentMember,
  Condition,
  Expression,
  Name,
  Parameter,
  PathMember,
  RangeExpression,
  RequireMember,
  SlotSize,
  Text,
  WireMember,
  WireSize,
} from '../tree';
import { toName } from './recovery';
import { StepParser } from './steps';

type PoseOffset = (AttachmentClause & { kind: 'at' })['offsets'][number];

/** The lines of an appliance. */
export abstract class MemberParser extends StepParser {
  protected member = this.RULE(
    'member',
    (): ApplianceMember =>
      this.OR<ApplianceMember>([
        { ALT: () => this.SUBRULE(this.wire) },
        { ALT: () => this.SUBRULE(this.param) },
        { ALT: () => this.SUBRULE(this.letValue) },
        { ALT: () => this.SUBRULE(this.path) },
        { ALT: () => this.SUBRULE(this.attachment) },
        { ALT: () => this.SUBRULE(this.activation) },
        { ALT: () => this.SUBRULE(this.requirement) },
      ]),
  );

  protected wire = this.RULE('wire', (): WireMember => {
    const start = this.CONSUME(Wire).startOffset;
    const size = this.SUBRULE(this.wireSize);
    let alloy: Name | undefined;
    if (this.need(1, Of, '`of` and an alloy, such as `of beta_titanium`') !== undefined) {
      alloy = this.needName(1, 'the name of an alloy, such as `beta_titanium`');
    }
    return { kind: 'wire', span: this.spanFrom(start), size, alloy };
  });

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

  protected param = this.RULE('param', (): Parameter => {
    const first = this.CONSUME(Param) as Token;
    const parameter = this.SUBRULE(this.parameter);
    return { ...parameter, span: this.spanFrom(first.startOffset), doc: first.doc };
  });

  /** `height = 7 mm [in 4 mm .. 12 mm]` */
  protected parameter = this.RULE('parameter', (): Parameter => {
    const before = this.lastEnd();
    const first = this.ahead(1);
    const name = this.needName(1, 'a name, such as `height = 7 mm in 4 mm .. 12 mm`');
    let value: Expression | undefined;
    let range: RangeExpression | undefined;
    if (this.need(1, Equals, '`=` and the usual value, such as `height = 7 mm`') !== undefined) {
      this.wanted = 'a value, such as `7 mm`';
      value = this.SUBRULE(this.sum);
    }
    this.OPTION(() => {
      this.CONSUME(In);
      range = this.SUBRULE(this.range);
    });
    const span = this.spanSince(before, first.startOffset);
    return { kind: 'parameter', span, doc: first.doc, name, value, range };
  });

  protected path = this.RULE('path', (): PathMember => {
    const start = this.CONSUME(Path).startOffset;
    this.need(1, Running, '`running mesial` or `running distal`');
    const direction = this.SUBRULE(this.direction);
    const body = this.SUBRULE(this.steps, OF_PATH);
    return { kind: 'path', span: this.spanFrom(start), direction, body };
  });

  /** `tube molar slot 0.022 in x 0.028 in, length 4 mm` */
  protected attachment = this.RULE('attachment', (): AttachmentMember => {
    const first = this.CONSUME(Fitting) as Token;
    const fitting = first.image as AttachmentMember['fitting'];
    this.inAttachment = true;
    let name: Name | undefined;
    const clauses: AttachmentClause[] = [];
    if (this.RECORDING_PHASE || !this.at(ClauseWord)) {
      name = this.needName(1, `a name for the ${fitting}, such as \`${fitting} molar\``);
    } else this.reportMissing(`a name for the ${fitting}, such as \`${fitting} molar\``);
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

  protected clause = this.RULE('clause', (): AttachmentClause => {
    const start = this.ahead(1).startOffset;
    return this.OR<AttachmentClause>([
      {
        ALT: () => {
          this.CONSUME(Slot);
          const size = this.SUBRULE(this.slotSize);
          return { kind: 'slot', span: this.spanFrom(start), size };
        },
      },
      {
        ALT: () => {
          const keyword = toName(this.SUBRULE(this.extent));
          this.wanted = `the ${keyword.text} of the slot, such as \`3 mm\``;
          const value = this.SUBRULE(this.sum);
          return { kind: 'length', span: this.spanFrom(start), keyword, value };
        },
      },
      {
        ALT: () => {
          const kind = this.SUBRULE(this.placing).image as 'at' | 'moved';
          const offsets: PoseOffset[] = [this.SUBRULE(this.offset)];
          this.MANY({
            GATE: () => this.startsValue() && !(this.startsLine() && this.at(Identifier)),
            DEF: () => {
              offsets.push(this.SUBRULE2(this.offset));
            },
          });
          return { kind, span: this.spanFrom(start), offsets };
        },
      },
      {
        ALT: () => {
          const kind = this.SUBRULE(this.turn).image as 'tip' | 'rotation' | 'torque';
          this.wanted = 'an angle, such as `5 deg`';
          const value = this.SUBRULE2(this.sum);
          return { kind, span: this.spanFrom(start), value };
        },
      },
      {
        ALT: () => {
          this.CONSUME(Tied);
          return { kind: 'tied', span: this.spanFrom(start) };
        },
      },
    ]);
  });

  protected extent = this.RULE('extent', () =>
    this.OR<Token>([{ ALT: () => this.CONSUME(Length) as Token }, { ALT: () => this.CONSUME(Width) as Token }]),
  );

  protected placing = this.RULE('placing', () =>
    this.OR<Token>([{ ALT: () => this.CONSUME(At) as Token }, { ALT: () => this.CONSUME(Moved) as Token }]),
  );

  protected turn = this.RULE('turn', () =>
    this.OR<Token>([
      { ALT: () => this.CONSUME(Tip) as Token },
      { ALT: () => this.CONSUME(Rotation) as Token },
      { ALT: () => this.CONSUME(Torque) as Token },
    ]),
  );

  /** `23 mm mesial` */
  protected offset = this.RULE('offset', (): PoseOffset => {
    const before = this.lastEnd();
    const start = this.ahead(1).startOffset;
    this.wanted = 'a distance and a direction, such as `23 mm mesial`';
    const value = this.SUBRULE(this.sum);
    const direction = this.SUBRULE(this.direction);
    return { span: this.spanSince(before, start), value, direction };
  });

  /** `activation pull through molar 0 mm .. 3 mm step 0.5 mm` */
  protected activation = this.RULE('activation', (): ActivationMember => {
    const start = this.CONSUME(Activation).startOffset;
    let motion: ActivationMember['motion'];
    let attachment: Name | undefined;
    let direction: Name | undefined;
    let range: RangeExpression | undefined;
    let step: Expression | undefined;
    if (!this.RECORDING_PHASE && !this.at(Pull) && !this.at(Move)) {
      this.reportMissing('`pull through` and a tube or bracket, or `move`, an attachment and a direction');
    } else {
      this.OR([
        {
          ALT: () => {
            this.CONSUME(Pull);
            motion = 'pull';
            this.need(1, Through, '`through` and the name of a tube or bracket');
            attachment = this.needName(1, 'the name of the tube or bracket the wire is pulled through');
          },
        },
        {
          ALT: () => {
            this.CONSUME(Move);
            motion = 'move';
            attachment = this.needName(2, 'the name of the attachment that moves');
            direction = this.SUBRULE(this.direction);
          },
        },
      ]);
      range = this.SUBRULE(this.range);
      this.OPTION(() => {
        this.CONSUME(Step);
        this.wanted = 'the step, such as `0.5 mm`';
        step = this.SUBRULE(this.sum);
      });
    }
    return { kind: 'activation', span: this.spanFrom(start), motion, attachment, direction, range, step };
  });

  /** `require at activation 1.5 mm { … }` */
  protected requirement = this.RULE('requirement', (): RequireMember => {
    const first = this.ahead(1);
    let stage: RequireMember['stage'];
    let activation: Expression | undefined;
    const conditions: Condition[] = [];
    this.OR([{ ALT: () => this.CONSUME(Require) }, { ALT: () => this.CONSUME(Prefer) }]);
    const severity = first.image as RequireMember['severity'];
    if (!this.RECORDING_PHASE && !this.at(At) && !this.at(Along) && !this.at(When)) {
      this.reportMissing('`at activation 1.5 mm`, `along activation`, `at neutral` or `when engaged`');
    } else {
      this.OR2([
        {
          ALT: () => {
            this.CONSUME(At);
            if (!this.RECORDING_PHASE && !this.at(Activation) && !this.at(Neutral)) {
              stage = 'at';
              this.reportMissing('`activation` and an amount, or `neutral`');
              return;
            }
            this.OR3([
              {
                ALT: () => {
                  this.CONSUME(Activation);
                  stage = 'at';
                  this.wanted = 'the amount of activation, such as `1.5 mm`';
                  activation = this.SUBRULE(this.sum);
                },
              },
              {
                ALT: () => {
                  this.CONSUME(Neutral);
                  stage = 'neutral';
                },
              },
            ]);
          },
        },
        {
          ALT: () => {
            this.CONSUME(Along);
            stage = 'along';
            this.need(2, Activation, '`activation`');
          },
        },
        {
          ALT: () => {
            this.CONSUME(When);
            stage = 'engaged';
            this.need(1, Engaged, '`engaged`');
          },
        },
      ]);
    }
    const owner = `\`${severity}\``;
    const open = this.openBlock(1, owner);
    if (open !== undefined) {
      this.inConditions = true;
      this.skipStray('conditions');
      this.MANY(() => {
        conditions.push(this.SUBRULE(this.condition));
        this.skipStray('conditions');
      });
      this.inConditions = false;
      this.closeBlock(1, open, owner);
    }
    return {
      kind: 'require',
      span: this.spanFrom(first.startOffset),
      doc: first.doc,
      severity,
      stage,
      activation,
      conditions,
    };
  });

  /** `canine.force.distal in 100 gf .. 150 gf [because "…"]` */
  protected condition = this.RULE('condition', (): Condition => {
    const start = this.ahead(1).startOffset;
    this.wanted = 'a condition, such as `canine.force.distal in 100 gf .. 150 gf`';
    const test = this.SUBRULE(this.expression);
    let because: Text | undefined;
    this.OPTION(() => {
      this.CONSUME(Because);
      because = this.needText(1, 'the reason in quotes');
    });
    return { span: this.spanFrom(start), test, because };
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

const Wire = word('wire');
const Of = word('of');
const Round = word('round');
const By = word('x');
const Ribbonwise = word('ribbonwise');
const Corner = word('corner');
const Param = word('param');
const In = word('in');
const Path = word('path');
const Running = word('running');
const Slot = word('slot');
const Length = word('length');
const Width = word('width');
const At = word('at');
const Moved = word('moved');
const Tip = word('tip');
const Rotation = word('rotation');
const Torque = word('torque');
const Tied = word('tied');
const Activation = word('activation');
const Pull = word('pull');
const Through = word('through');
const Move = word('move');
const Step = word('step');
const Require = word('require');
const Prefer = word('prefer');
const Along = word('along');
const Neutral = word('neutral');
const When = word('when');
const Engaged = word('engaged');
const Because = word('because');

const HEIGHT = 'the height, such as `0.017 in`';
const CLAUSE = 'a clause: `slot`, `length`, `width`, `at`, `moved`, `tip`, `rotation`, `torque` or `tied`';
const OF_PATH: { ARGS: [string] } = { ARGS: ['`path`'] };
