import { Name as NameToken, Pulling, type Token, word } from '../tokens';
import type { Expression, LoadLaw, LoadMember, Name } from '../tree';
import { AttachmentParser } from './attachments';
import { toName } from './recovery';

/** Elastics, coil springs and ligatures. */
export abstract class LoadParser extends AttachmentParser {
  /** `elastic closing from canine to molar force 150 gf` */
  protected load = this.RULE('load', (): LoadMember => {
    const first = this.CONSUME(Pulling) as Token;
    const fitting = first.image as LoadMember['fitting'];
    let name: Name | undefined;
    let to: Name | undefined;
    let law: LoadLaw | undefined;
    this.OPTION({
      GATE: () => !this.at(From) && !this.startsLine(),
      DEF: () => {
        name = toName(this.CONSUME(NameToken) as Token);
      },
    });
    let from: Name | undefined;
    if (this.need(1, From, `\`from\` and where it begins, such as \`${fitting} from canine\``) !== undefined) {
      from = this.needName(1, PLACE);
      if (this.need(1, To, '`to` and where it ends, such as `to molar`') !== undefined) to = this.needName(2, PLACE);
    }
    if (this.RECORDING_PHASE || this.at(Force) || this.at(Rate)) law = this.SUBRULE(this.loadLaw);
    else this.reportMissing('`force` and how hard it pulls, or `rate` and `rest`');
    return { kind: 'load', span: this.spanFrom(first.startOffset), doc: first.doc, fitting, name, from, to, law };
  });

  /** `force 150 gf` or `rate 0.4 N/mm rest 8 mm` */
  protected loadLaw = this.RULE('loadLaw', (): LoadLaw => {
    const start = this.ahead(1).startOffset;
    return this.OR<LoadLaw>([
      {
        ALT: () => {
          this.CONSUME(Force);
          this.wanted = 'a force, such as `150 gf`';
          const force = this.SUBRULE(this.sum);
          return { kind: 'force', span: this.spanFrom(start), force };
        },
      },
      {
        ALT: () => {
          this.CONSUME(Rate);
          this.wanted = 'a force for each length, such as `0.4 N/mm`';
          const rate = this.SUBRULE2(this.sum);
          let rest: Expression | undefined;
          if (this.need(1, Rest, '`rest` and the length without force, such as `rest 8 mm`') !== undefined) {
            this.wanted = 'a length, such as `8 mm`';
            rest = this.SUBRULE3(this.sum);
          }
          return { kind: 'rate', span: this.spanFrom(start), rate, rest };
        },
      },
    ]);
  });
}

const From = word('from');
const To = word('to');
const Force = word('force');
const Rate = word('rate');
const Rest = word('rest');
const PLACE = 'the name of an attachment or of a mark';
