import {
  ClauseWord,
  Comma,
  Direction,
  Equals,
  Identifier,
  LeftParenthesis,
  Name as NameToken,
  NumberLiteral,
  RightParenthesis,
  shorten,
  type Token,
  word,
} from '../tokens';
import type {
  ArchPlace,
  ArchSeat,
  Argument,
  BendStep,
  CallStep,
  ChangeStep,
  Expression,
  FollowStep,
  FootStep,
  HelixStep,
  LetItem,
  MarkStep,
  Name,
  PathItem,
  RepeatStep,
  SeatStep,
  Source,
  StraightStep,
  Text,
  TwistStep,
} from '../tree';
import { spanOf, toName } from './recovery';
import { SizeParser } from './sizes';

/** The steps of a path or a part. */
export abstract class StepParser extends SizeParser {
  /** The steps between the braces of `owner`. */
  protected steps = this.RULE('steps', (owner: string): PathItem[] => {
    const items: PathItem[] = [];
    const open = this.openBlock(1, owner);
    if (open === undefined) return items;
    this.skipStray('path');
    this.MANY(() => {
      items.push(this.SUBRULE(this.step));
      this.skipStray('path');
    });
    this.closeBlock(1, open, owner);
    return items;
  });

  protected step = this.oneOf<PathItem>(
    'step',
    [
      {
        // A part may be called that.
        GATE: () => !this.at(LeftParenthesis, 2),
        ALT: () => this.SUBRULE(this.change),
      },
      { ALT: () => this.SUBRULE(this.straight) },
      { ALT: () => this.SUBRULE(this.bend) },
      { ALT: () => this.SUBRULE(this.twist) },
      { ALT: () => this.SUBRULE(this.helix) },
      { ALT: () => this.SUBRULE(this.seat) },
      { ALT: () => this.SUBRULE(this.mark) },
      { ALT: () => this.SUBRULE(this.foot) },
      { ALT: () => this.SUBRULE(this.follow) },
      { ALT: () => this.SUBRULE(this.letValue) },
      { ALT: () => this.SUBRULE(this.repeat) },
      { ALT: () => this.SUBRULE(this.partCall) },
    ],
    { ambiguous: true },
  );

  /** `section 0.017 in x 0.025 in [of beta_titanium] [doubled]`: what the wire is from here on. */
  protected change = this.RULE('change', (): ChangeStep => {
    const start = this.CONSUME(Section).startOffset;
    const size = this.SUBRULE(this.wireSize);
    let alloy: Name | undefined;
    let doubled = false;
    this.OPTION(() => {
      this.CONSUME(Of);
      alloy = this.needName(1, 'the name of an alloy, such as `beta_titanium`');
    });
    this.OPTION2(() => {
      this.CONSUME(Doubled);
      doubled = true;
    });
    return { kind: 'change', span: this.spanFrom(start), size, alloy, doubled };
  });

  protected straight = this.RULE('straight', (): StraightStep => {
    const start = this.CONSUME(Straight).startOffset;
    this.wanted = LENGTH;
    const length = this.SUBRULE(this.sum);
    return { kind: 'straight', span: this.spanFrom(start), length };
  });

  protected bend = this.RULE('bend', (): BendStep => {
    let preactivation = false;
    const start = this.ahead(1).startOffset;
    this.OR([
      { ALT: () => this.CONSUME(Bend) },
      {
        ALT: () => {
          this.CONSUME(Preactivate);
          preactivation = true;
        },
      },
    ]);
    this.wanted = ANGLE;
    const angle = this.SUBRULE(this.sum);
    this.need(1, Toward, '`toward` and a direction, such as `toward gingival`');
    const direction = this.SUBRULE(this.direction);
    let radius: Expression | undefined;
    this.OPTION(() => {
      this.CONSUME(Radius);
      this.wanted = 'the radius to the centre line, such as `radius 1 mm`';
      radius = this.SUBRULE2(this.sum);
    });
    let backFrom: Expression | undefined;
    this.OPTION2(() => {
      this.CONSUME(Back);
      if (
        this.need(2, From, '`from` and the angle to which it was first bent, such as `back from 110 deg`') === undefined
      )
        return;
      this.wanted = ANGLE;
      backFrom = this.SUBRULE3(this.sum);
    });
    return { kind: 'bend', span: this.spanFrom(start), preactivation, angle, direction, radius, backFrom };
  });

  protected twist = this.RULE('twist', (): TwistStep => {
    const start = this.CONSUME(Twist).startOffset;
    this.wanted = ANGLE;
    const angle = this.SUBRULE(this.sum);
    let over: Expression | undefined;
    if (this.need(1, Over, '`over` and a length, such as `over 3 mm`') !== undefined) {
      this.wanted = LENGTH;
      over = this.SUBRULE2(this.sum);
    }
    return { kind: 'twist', span: this.spanFrom(start), angle, over };
  });

  protected helix = this.RULE('helix', (): HelixStep => {
    const start = this.CONSUME(Helix).startOffset;
    let diameter: Expression | undefined;
    let pitch: Expression | undefined;
    this.wanted = 'how many turns, such as `helix 2 turns`';
    const turns = this.SUBRULE(this.sum);
    if (!this.RECORDING_PHASE && !this.at(Turns) && !this.at(Turn))
      this.reportMissing('`turns`, such as `helix 2 turns`');
    else this.OR([{ ALT: () => this.CONSUME(Turns) }, { ALT: () => this.CONSUME(Turn) }]);
    if (this.need(1, Diameter, '`diameter` and a length, such as `diameter 3 mm`') !== undefined) {
      this.wanted = LENGTH;
      diameter = this.SUBRULE2(this.sum);
    }
    this.need(2, Toward, '`toward` and a direction, such as `toward gingival`');
    const direction = this.SUBRULE(this.direction);
    this.OPTION(() => {
      this.CONSUME(Pitch);
      this.wanted = 'from turn to turn, such as `pitch 0.5 mm`';
      pitch = this.SUBRULE3(this.sum);
    });
    return { kind: 'helix', span: this.spanFrom(start), turns, diameter, direction, pitch };
  });

  protected seat = this.RULE('seat', (): SeatStep => {
    const start = this.CONSUME(Seat).startOffset;
    const attachment = this.needName(1, 'the name of the tube, bracket, hook or eyelet that holds this point');
    return { kind: 'seat', span: this.spanFrom(start), attachment };
  });

  protected mark = this.RULE('mark', (): MarkStep => {
    const start = this.CONSUME(Mark).startOffset;
    const name = this.needName(1, 'a name for the mark, such as `mark centre`');
    return { kind: 'mark', span: this.spanFrom(start), name };
  });

  protected foot = this.RULE('foot', (): FootStep => {
    const start = this.CONSUME(Foot).startOffset;
    return { kind: 'foot', span: this.spanFrom(start) };
  });

  /** `follow beta_arch(width = 55 mm, depth = 40 mm) from 47 mm right to 47 mm left [{ seat teeth }]` */
  protected follow = this.RULE('follow', (): FollowStep => {
    const start = this.CONSUME(Follow).startOffset;
    const curve = this.needName(1, 'an arch form, such as `beta_arch(width = 55 mm, depth = 40 mm)`');
    const list = this.SUBRULE(this.arguments);
    let from: ArchPlace | undefined;
    let to: ArchPlace | undefined;
    if (this.need(1, From, '`from` and where the wire begins, such as `from 47 mm right`') !== undefined) {
      from = this.SUBRULE(this.archPlace);
      if (this.need(2, To, '`to` and where the wire ends, such as `to 47 mm left`') !== undefined) {
        to = this.SUBRULE2(this.archPlace);
      }
    }
    let seats: ArchSeat[] = [];
    this.OPTION(() => {
      seats = this.SUBRULE(this.archSeats);
    });
    return { kind: 'follow', span: this.spanFrom(start), curve, arguments: list, from, to, seats };
  });

  /** `47 mm right` or `tooth 16` */
  protected archPlace = this.RULE('archPlace', (): ArchPlace => {
    const start = this.ahead(1).startOffset;
    if (!this.RECORDING_PHASE && !this.startsValue() && !this.at(Tooth)) {
      this.reportMissing(ARCH_PLACE);
      return {
        kind: 'distance',
        span: { start: this.lastEnd(), end: this.lastEnd() },
        value: undefined,
        side: undefined,
      };
    }
    return this.OR<ArchPlace>([
      {
        GATE: () => this.at(NumberLiteral, 2),
        ALT: () => {
          this.CONSUME(Tooth);
          const tooth = toName(this.CONSUME(NumberLiteral) as Token);
          return { kind: 'tooth', span: this.spanFrom(start), tooth };
        },
      },
      {
        ALT: () => {
          const before = this.lastEnd();
          this.wanted = ARCH_PLACE;
          const value = this.SUBRULE(this.sum);
          const side = this.SUBRULE(this.direction);
          return { kind: 'distance', span: this.spanSince(before, start), value, side };
        },
      },
    ]);
  });

  protected archSeats = this.RULE('archSeats', (): ArchSeat[] => {
    const seats: ArchSeat[] = [];
    const open = this.openBlock(1, '`follow`');
    if (open === undefined) return seats;
    this.MANY(() => {
      seats.push(this.SUBRULE(this.archSeat));
    });
    this.closeBlock(1, open, '`follow`');
    return seats;
  });

  /** `seat teeth` or `seat stop at 5 mm left` */
  protected archSeat = this.RULE('archSeat', (): ArchSeat => {
    const start = this.CONSUME(Seat).startOffset;
    let attachment: Name | undefined;
    let place: ArchPlace | undefined;
    if (!this.RECORDING_PHASE && !this.at(Teeth) && !this.at(NameToken)) {
      this.reportMissing('`teeth`, or the name of an attachment and where it sits: `seat stop at 5 mm left`');
      return { kind: 'arch-seat', span: this.spanFrom(start), attachment, place };
    }
    this.OR([
      { GATE: () => !this.at(At, 2), ALT: () => this.CONSUME(Teeth) },
      {
        ALT: () => {
          attachment = this.needName(
            1,
            '`teeth`, or the name of an attachment and where it sits: `seat stop at 5 mm left`',
          );
          if (this.need(2, At, '`at` and a place along the arch, such as `at 5 mm left`') !== undefined) {
            place = this.SUBRULE(this.archPlace);
          }
        },
      },
    ]);
    return { kind: 'arch-seat', span: this.spanFrom(start), attachment, place };
  });

  /** `let name = expression [source found "…"]` */
  protected letValue = this.RULE('let', (): LetItem => {
    const first = this.CONSUME(Let) as Token;
    const name = this.needName(1, 'a name, such as `let span = 12 mm`');
    let value: Expression | undefined;
    if (this.need(1, Equals, '`=` and a value') !== undefined) {
      this.wanted = VALUE;
      value = this.SUBRULE(this.expression);
    }
    let source: Source | undefined;
    this.OPTION({
      GATE: () => this.atSource(),
      DEF: () => {
        source = this.SUBRULE(this.source);
      },
    });
    return { kind: 'let', span: this.spanFrom(first.startOffset), doc: first.doc, name, value, source };
  });

  /** `[,] source found "…"` */
  protected source = this.RULE('source', (): Source => {
    this.OPTION(() => this.CONSUME(Comma));
    const start = this.CONSUME(SourceWord).startOffset;
    const state = this.needName(1, '`found`, `memory`, `practice` or `computed`');
    let reference: Text | undefined;
    this.OPTION2(() => {
      reference = this.needText(1, 'the source in quotes');
    });
    return { span: this.spanFrom(start), state, reference };
  });

  protected repeat = this.RULE('repeat', (): RepeatStep => {
    const start = this.CONSUME(Repeat).startOffset;
    this.wanted = 'how many times, such as `repeat 3`';
    const count = this.SUBRULE(this.sum);
    const body = this.nested(() => this.SUBRULE(this.steps, OF_REPEAT)) ?? [];
    return { kind: 'repeat', span: this.spanFrom(start), count, body };
  });

  /** `[flip] [mirror] closed_loop(height = 8 mm) [as loop]` */
  protected partCall = this.RULE('partCall', (): CallStep => {
    const first = this.ahead(1);
    let flip = false;
    let mirror = false;
    let label: Name | undefined;
    let list: Argument[] = [];
    this.OPTION(() => {
      this.CONSUME(Flip);
      flip = true;
    });
    this.OPTION2(() => {
      this.CONSUME(Mirror);
      mirror = true;
    });
    const part = this.needPart();
    if (part === undefined || this.hasArguments(part)) list = this.SUBRULE(this.arguments);
    this.OPTION3(() => {
      this.CONSUME(As);
      label = this.needName(2, 'a name for this part of the wire, such as `as loop`');
    });
    return { kind: 'call', span: this.spanFrom(first.startOffset), flip, mirror, part, arguments: list, label };
  });

  protected arguments = this.RULE('arguments', (): Argument[] => {
    const list: Argument[] = [];
    if (this.need(1, LeftParenthesis, '`(` and the arguments, or `()`') === undefined) return list;
    if (!this.RECORDING_PHASE && !this.at(NameToken) && !this.at(RightParenthesis)) {
      this.reportMissing('`)` or an argument with its name, such as `height = 8 mm`');
    }
    this.MANY_SEP({
      SEP: Comma,
      DEF: () => {
        // A comma before `)` is nobody's mistake.
        if (!this.RECORDING_PHASE && !this.at(NameToken)) return;
        list.push(this.SUBRULE(this.argument));
        while (!this.RECORDING_PHASE && this.at(NameToken) && this.at(Equals, 2)) {
          this.reportMissing('`,` before the next argument');
          list.push(this.subrule(2, this.argument));
        }
      },
    });
    this.closeParenthesis(1);
    return list;
  });

  protected argument = this.RULE('argument', (): Argument => {
    const name = toName(this.CONSUME(NameToken) as Token);
    let value: Expression | undefined;
    if (this.need(1, Equals, '`=` and a value; arguments are named, such as `height = 8 mm`') !== undefined) {
      this.wanted = VALUE;
      value = this.SUBRULE(this.expression);
    }
    return { span: this.spanFrom(name.span.start), name, value };
  });

  /** A direction. A word that is none is taken where only a direction can stand, so that it can be named. */
  protected direction = this.RULE('direction', (): Name | undefined => {
    if (this.RECORDING_PHASE) this.CONSUME(Direction);
    else if (this.at(Direction) || (this.at(Identifier) && !this.startsLine() && !this.at(LeftParenthesis, 2))) {
      return toName(this.skipAndKeep());
    } else this.reportMissing(DIRECTION);
    return undefined;
  });

  /** Whether a source follows, after a comma or not, and not a property of that name. */
  protected atSource(): boolean {
    const distance = this.at(Comma) ? 2 : 1;
    return this.at(SourceWord, distance) && !this.at(Equals, distance + 1) && !this.at(LeftParenthesis, distance + 1);
  }

  private needPart(): Name | undefined {
    if (this.RECORDING_PHASE || (this.at(NameToken) && !(this.inAttachment && this.at(ClauseWord)))) {
      return toName(this.consume(1, NameToken) as Token);
    }
    if (this.at(Flip)) this.report(spanOf(this.ahead(1)), 'Write `flip` before `mirror`.');
    else this.reportMissing('the name of a part, such as `closed_loop()`');
    return undefined;
  }

  /** Reports a lone word, which may be a part without its parentheses or a step half typed. */
  private hasArguments(part: Name): boolean {
    if (this.RECORDING_PHASE || this.at(LeftParenthesis)) return true;
    const text = shorten(part.text);
    this.report(
      part.span,
      `\`${text}\` is no step of a path. Steps begin with \`straight\`, \`bend\`, \`preactivate\`, \`twist\`, \`helix\`, \`seat\`, \`mark\`, \`foot\`, \`follow\`, \`section\`, \`let\` or \`repeat\`; a part is called with parentheses: \`${text}()\`.`,
    );
    return false;
  }
}

const ARCH_PLACE = 'a place along the arch, such as `47 mm right` or `tooth 16`';
const Section = word('section');
const Of = word('of');
const Doubled = word('doubled');
const Straight = word('straight');
const Bend = word('bend');
const Preactivate = word('preactivate');
const Toward = word('toward');
const Radius = word('radius');
const Back = word('back');
const Twist = word('twist');
const Over = word('over');
const Helix = word('helix');
const Turns = word('turns');
const Turn = word('turn');
const Diameter = word('diameter');
const Pitch = word('pitch');
const Seat = word('seat');
const Mark = word('mark');
const Foot = word('foot');
const Follow = word('follow');
const From = word('from');
const To = word('to');
const Tooth = word('tooth');
const Teeth = word('teeth');
const At = word('at');
const Let = word('let');
const Flip = word('flip');
const Mirror = word('mirror');
const As = word('as');
const Repeat = word('repeat');
const SourceWord = word('source');

const LENGTH = 'a length, such as `8 mm`';
const ANGLE = 'an angle, such as `20 deg`';
const VALUE = 'a value, such as `7 mm`';
const DIRECTION =
  'a direction: `mesial`, `distal`, `gingival`, `occlusal`, `buccal` or `lingual` (in a whole arch `anterior`, `posterior`, `left`, `right`)';
const OF_REPEAT: { ARGS: [string] } = { ARGS: ['`repeat`'] };
