import { Comma, type Token, word } from '../tokens';
import type {
  Expression,
  GroupClause,
  GroupMember,
  Name,
  Offset,
  RangeExpression,
  VisitsClause,
  VisitsMember,
} from '../tree';
import { groupClauseWords, visitClauseWords } from '../words';
import { LoadParser } from './loads';

/** Groups of teeth, and the visits at which the appliance is looked after. */
export abstract class GroupParser extends LoadParser {
  /** `group anchor of molar, on teeth 15 .. 17, resistance 8 mm gingival from molar, root 12 mm` */
  protected group = this.RULE('group', (): GroupMember => {
    const first = this.CONSUME(Group) as Token;
    const clauses: GroupClause[] = [];
    const name = this.needName(1, 'a name for the group, such as `group anchor of molar`');
    this.inAttachment = true;
    this.MANY({
      GATE: () => !this.beginsItem(),
      DEF: () => {
        this.OPTION(() => this.CONSUME(Comma));
        if (this.RECORDING_PHASE || this.atAny(GROUP_CLAUSES)) clauses.push(this.SUBRULE(this.groupClause));
        else this.reportMissing('a clause: `of`, `on teeth`, `resistance`, `root` or `both sides`');
      },
    });
    this.inAttachment = false;
    return { kind: 'group', span: this.spanFrom(first.startOffset), doc: first.doc, name, clauses };
  });

  protected groupClause = this.oneOf<GroupClause>('groupClause', [
    {
      ALT: () => {
        const start = this.CONSUME(Of).startOffset;
        const attachments = [this.needName(1, ATTACHMENT)];
        this.MANY(() => {
          this.CONSUME(And);
          attachments.push(this.needName(2, ATTACHMENT));
        });
        return { kind: 'of', span: this.spanFrom(start), attachments };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(On).startOffset;
        const teeth = this.SUBRULE(this.teeth);
        return { kind: 'on', span: this.spanFrom(start), teeth };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Resistance).startOffset;
        const offsets: Offset[] = [this.SUBRULE(this.offset)];
        this.MANY2({
          GATE: () => this.startsValue() && !this.at(From),
          DEF: () => {
            offsets.push(this.SUBRULE2(this.offset));
          },
        });
        let from: Name | undefined;
        if (this.need(1, From, '`from` and an attachment, such as `from molar`') !== undefined)
          from = this.needName(3, ATTACHMENT);
        return { kind: 'resistance', span: this.spanFrom(start), offsets, from };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Root).startOffset;
        this.wanted = 'the length of the roots, such as `13 mm`';
        const value = this.SUBRULE(this.sum);
        return { kind: 'root', span: this.spanFrom(start), value };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Both).startOffset;
        this.need(1, Sides, '`sides`, as in `both sides`');
        return { kind: 'sides', span: this.spanFrom(start) };
      },
    },
  ]);

  /** `visits every 6 weeks, close 6 mm between canine and molar, activate 2 mm` */
  protected visits = this.RULE('visits', (): VisitsMember => {
    const first = this.CONSUME(Visits) as Token;
    const clauses: VisitsClause[] = [];
    this.inAttachment = true;
    this.MANY({
      GATE: () => !this.beginsItem(),
      DEF: () => {
        this.OPTION(() => this.CONSUME(Comma));
        if (this.RECORDING_PHASE || this.atAny(VISIT_CLAUSES)) clauses.push(this.SUBRULE(this.visitsClause));
        else this.reportMissing('a clause: `every`, `close`, `activate`, `reactivate when`, `rate` or `within`');
      },
    });
    this.inAttachment = false;
    return { kind: 'visits', span: this.spanFrom(first.startOffset), doc: first.doc, clauses };
  });

  protected visitsClause = this.oneOf<VisitsClause>('visitsClause', [
    {
      ALT: () => {
        const start = this.CONSUME(Every).startOffset;
        this.wanted = 'the time from visit to visit, such as `6 weeks`';
        const value = this.SUBRULE(this.sum);
        return { kind: 'every', span: this.spanFrom(start), value };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Close).startOffset;
        this.wanted = 'the space to close, such as `6 mm`';
        const value = this.SUBRULE2(this.sum);
        let first: Name | undefined;
        let second: Name | undefined;
        if (this.need(1, Between, '`between` and two attachments, such as `between canine and molar`') !== undefined) {
          first = this.needName(1, ATTACHMENT);
          if (this.need(1, And, '`and` and the other attachment') !== undefined) second = this.needName(2, ATTACHMENT);
        }
        return { kind: 'close', span: this.spanFrom(start), value, between: [first, second] };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Activate).startOffset;
        this.wanted = 'how far, such as `2 mm`';
        const value = this.SUBRULE3(this.sum);
        return { kind: 'activate', span: this.spanFrom(start), value };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Reactivate).startOffset;
        let when: Expression | undefined;
        if (this.need(1, When, '`when` and a condition, such as `when canine.force.distal < 80 gf`') !== undefined) {
          this.wanted = 'a condition, such as `canine.force.distal < 80 gf`';
          when = this.SUBRULE(this.expression);
        }
        return { kind: 'reactivate', span: this.spanFrom(start), when };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Rate).startOffset;
        let range: RangeExpression | undefined;
        this.wanted = 'how fast a tooth moves, such as `0.7 mm/month`';
        const value = this.SUBRULE4(this.sum);
        this.OPTION(() => {
          this.CONSUME(In);
          range = this.SUBRULE(this.range);
        });
        return { kind: 'rate', span: this.spanFrom(start), value, range };
      },
    },
    {
      ALT: () => {
        const start = this.CONSUME(Within).startOffset;
        this.wanted = 'how long at most, such as `40 weeks`';
        const value = this.SUBRULE5(this.sum);
        return { kind: 'within', span: this.spanFrom(start), value };
      },
    },
  ]);

  private atAny(types: readonly ReturnType<typeof word>[]): boolean {
    return types.some((type) => this.at(type));
  }
}

const Group = word('group');
const Of = word('of');
const On = word('on');
const And = word('and');
const Resistance = word('resistance');
const From = word('from');
const Root = word('root');
const Both = word('both');
const Sides = word('sides');
const Visits = word('visits');
const Every = word('every');
const Close = word('close');
const Between = word('between');
const Activate = word('activate');
const Reactivate = word('reactivate');
const When = word('when');
const Rate = word('rate');
const In = word('in');
const Within = word('within');
const GROUP_CLAUSES = groupClauseWords.map(word);
const VISIT_CLAUSES = visitClauseWords.map(word);
const ATTACHMENT = 'the name of an attachment';
