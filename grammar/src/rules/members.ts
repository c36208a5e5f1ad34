import { Equals, type Token, word } from '../tokens';
import type {
  ActivationMember,
  ApplianceMember,
  Condition,
  Expression,
  GaugeMember,
  Name,
  Parameter,
  PathMember,
  RangeExpression,
  RequireMember,
  Text,
  TrialMember,
  WireMember,
} from '../tree';
import { GroupParser } from './groups';

/** The lines of an appliance. */
export abstract class MemberParser extends GroupParser {
  protected member = this.oneOf<ApplianceMember>('member', [
    { ALT: () => this.SUBRULE(this.wire) },
    { ALT: () => this.SUBRULE(this.param) },
    { ALT: () => this.SUBRULE(this.letValue) },
    { ALT: () => this.SUBRULE(this.path) },
    { ALT: () => this.SUBRULE(this.attachment) },
    { ALT: () => this.SUBRULE(this.load) },
    { ALT: () => this.SUBRULE(this.group) },
    { ALT: () => this.SUBRULE(this.activation) },
    { ALT: () => this.SUBRULE(this.trial) },
    { ALT: () => this.SUBRULE(this.gauge) },
    { ALT: () => this.SUBRULE(this.visits) },
    { ALT: () => this.SUBRULE(this.requirement) },
  ]);

  protected wire = this.RULE('wire', (): WireMember => {
    const start = this.CONSUME(Wire).startOffset;
    const size = this.SUBRULE(this.wireSize);
    let alloy: Name | undefined;
    if (this.need(1, Of, '`of` and an alloy, such as `of beta_titanium`') !== undefined) {
      alloy = this.needName(1, 'the name of an alloy, such as `beta_titanium`');
    }
    let stressRelieved = false;
    this.OPTION(() => {
      this.CONSUME(Stress);
      stressRelieved = this.need(2, Relieved, '`relieved`, as in `of steel stress relieved`') !== undefined;
    });
    return { kind: 'wire', span: this.spanFrom(start), size, alloy, stressRelieved };
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

  /** `activation pull through molar [toward distal] 0 mm .. 3 mm step 0.5 mm` */
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
            this.OPTION1(() => {
              this.CONSUME(Toward);
              direction = this.SUBRULE1(this.direction);
            });
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

  /** `trial activation 3 mm` */
  protected trial = this.RULE('trial', (): TrialMember => {
    const start = this.CONSUME(Trial).startOffset;
    let amount: Expression | undefined;
    if (this.need(1, Activation, '`activation` and how far, such as `trial activation 3 mm`') !== undefined) {
      this.wanted = 'how far the wire is pulled on trial, such as `3 mm`';
      amount = this.SUBRULE(this.sum);
    }
    return { kind: 'trial', span: this.spanFrom(start), amount };
  });

  /** `gauge 1.6 N at activation 2 mm` */
  protected gauge = this.RULE('gauge', (): GaugeMember => {
    const start = this.CONSUME(Gauge).startOffset;
    let activation: Expression | undefined;
    this.wanted = 'the force that the gauge shows, such as `1.6 N`';
    const force = this.SUBRULE(this.sum);
    if (this.need(1, At, '`at activation` and how far, such as `at activation 2 mm`') !== undefined) {
      if (this.need(2, Activation, '`activation` and how far, such as `at activation 2 mm`') !== undefined) {
        this.wanted = 'how far the wire was activated, such as `2 mm`';
        activation = this.SUBRULE2(this.sum);
      }
    }
    return { kind: 'gauge', span: this.spanFrom(start), force, activation };
  });

  /** `require at activation 1.5 mm { … }` */
  protected requirement = this.RULE('requirement', (): RequireMember => {
    const first = this.ahead(1);
    let stage: RequireMember['stage'];
    let activation: Expression | undefined;
    const conditions: Condition[] = [];
    this.OR([{ ALT: () => this.CONSUME(Require) }, { ALT: () => this.CONSUME(Prefer) }]);
    const severity = first.image as RequireMember['severity'];
    if (!this.RECORDING_PHASE && !this.at(At) && !this.at(Along) && !this.at(When) && !this.at(Over)) {
      this.reportMissing('`at activation 1.5 mm`, `along activation`, `at neutral`, `when engaged` or `over visits`');
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
        {
          ALT: () => {
            this.CONSUME(Over);
            stage = 'visits';
            this.need(1, Visits, '`visits`');
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
}

const Wire = word('wire');
const Of = word('of');
const Stress = word('stress');
const Relieved = word('relieved');
const Param = word('param');
const In = word('in');
const Path = word('path');
const Running = word('running');
const At = word('at');
const Activation = word('activation');
const Pull = word('pull');
const Through = word('through');
const Toward = word('toward');
const Move = word('move');
const Step = word('step');
const Trial = word('trial');
const Gauge = word('gauge');
const Require = word('require');
const Prefer = word('prefer');
const Along = word('along');
const Neutral = word('neutral');
const When = word('when');
const Engaged = word('engaged');
const Over = word('over');
const Visits = word('visits');
const Because = word('because');
const OF_PATH: { ARGS: [string] } = { ARGS: ['`path`'] };
