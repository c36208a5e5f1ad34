import {
  Comma,
  Equals,
  LeftParenthesis,
  Name as NameToken,
  RightParenthesis,
  type Token,
  tokenize,
  word,
} from '../tokens';
import type {
  AlloyItem,
  ApplianceItem,
  ApplianceMember,
  Argument,
  Auxiliary,
  Expression,
  Item,
  Name,
  Offset,
  Parameter,
  ParseResult,
  PartItem,
  Property,
  RangeExpression,
  SectionItem,
  Site,
  SlotItem,
  SlotSize,
  Source,
  UseItem,
  VariantItem,
  WireSize,
} from '../tree';
import { MemberParser } from './members';
import { toName } from './recovery';

/** The items of a file; the parser as a whole. */
export class FileParser extends MemberParser {
  constructor() {
    super();
    this.performSelfAnalysis();
  }

  /** Parses a text, or from the end of one of its items to that of another. Never throws on the text's account. */
  parse(text: string, from = 0, to = text.length): ParseResult {
    const { tokens, problems } = tokenize(text, from, to);
    this.begin(tokens);
    const items = this.file();
    const all = [...problems, ...this.problems].sort((a, b) => a.span.start - b.span.start);
    return { tree: { kind: 'file', span: { start: from, end: to }, items }, problems: all };
  }

  protected file = this.RULE('file', (): Item[] => {
    const items: Item[] = [];
    this.skipStray('file');
    this.MANY(() => {
      items.push(this.SUBRULE(this.item));
      this.skipStray('file');
    });
    return items;
  });

  protected item = this.oneOf<Item>('item', [
    { ALT: () => this.SUBRULE(this.use) },
    { ALT: () => this.SUBRULE(this.letValue) },
    { ALT: () => this.SUBRULE(this.alloy) },
    { ALT: () => this.SUBRULE(this.section) },
    { ALT: () => this.SUBRULE(this.slot) },
    { ALT: () => this.SUBRULE(this.part) },
    { ALT: () => this.SUBRULE(this.appliance) },
    { ALT: () => this.SUBRULE(this.variant) },
    { ALT: () => this.SUBRULE(this.auxiliary) },
  ]);

  protected use = this.RULE('use', (): UseItem => {
    const start = this.CONSUME(Use).startOffset;
    const path = this.needText(1, 'what to use, in quotes: `use "alloys"` or `use "./parts/loops.spring"`');
    return { kind: 'use', span: this.spanFrom(start), path };
  });

  protected alloy = this.RULE('alloy', (): AlloyItem => {
    const first = this.CONSUME(Alloy) as Token;
    const name = this.needName(1, 'a name for the alloy');
    const properties: Property[] = [];
    const open = this.openBlock(1, '`alloy`');
    if (open !== undefined) {
      this.skipStray('alloy');
      this.MANY(() => {
        properties.push(this.SUBRULE(this.property));
        this.OPTION(() => this.CONSUME(Comma));
        this.skipStray('alloy');
      });
      this.closeBlock(1, open, '`alloy`');
    }
    return { kind: 'alloy', span: this.spanFrom(first.startOffset), doc: first.doc, name, properties };
  });

  /** `modulus = 66 GPa [in 62 GPa .. 69 GPa] [source found "…"]` */
  protected property = this.RULE('property', (): Property => {
    const first = this.CONSUME(NameToken) as Token;
    let value: Expression | undefined;
    let range: RangeExpression | undefined;
    let source: Source | undefined;
    if (this.need(1, Equals, '`=` and a value, such as `modulus = 66 GPa`') !== undefined) {
      this.wanted = 'a value, such as `66 GPa`';
      value = this.SUBRULE(this.sum);
    }
    this.OPTION(() => {
      this.CONSUME(In);
      range = this.SUBRULE(this.range);
    });
    this.OPTION2({
      GATE: () => this.atSource(),
      DEF: () => {
        source = this.SUBRULE(this.source);
      },
    });
    const span = this.spanFrom(first.startOffset);
    return { kind: 'property', span, doc: first.doc, name: toName(first), value, range, source };
  });

  protected section = this.RULE('section', (): SectionItem => {
    const first = this.CONSUME(Section) as Token;
    const name = this.needName(1, 'a name for the section');
    let size: WireSize | undefined;
    let source: Source | undefined;
    if (this.need(1, Equals, '`=` and a size, such as `0.019 in x 0.025 in`') !== undefined) {
      size = this.SUBRULE(this.wireSize);
    }
    this.OPTION({
      GATE: () => this.atSource(),
      DEF: () => {
        source = this.SUBRULE(this.source);
      },
    });
    return { kind: 'section', span: this.spanFrom(first.startOffset), doc: first.doc, name, size, source };
  });

  protected slot = this.RULE('slot', (): SlotItem => {
    const first = this.CONSUME(Slot) as Token;
    const name = this.needName(1, 'a name for the slot');
    let size: SlotSize | undefined;
    let source: Source | undefined;
    if (this.need(1, Equals, '`=` and a size, such as `0.022 in x 0.028 in`') !== undefined) {
      size = this.SUBRULE(this.slotSize);
    }
    this.OPTION({
      GATE: () => this.atSource(),
      DEF: () => {
        source = this.SUBRULE(this.source);
      },
    });
    return { kind: 'slot', span: this.spanFrom(first.startOffset), doc: first.doc, name, size, source };
  });

  /** `part name(parameter, …) { … }` */
  protected part = this.RULE('part', (): PartItem => {
    const first = this.CONSUME(Part) as Token;
    const name = this.needName(1, 'a name for the part');
    const parameters = this.SUBRULE(this.parameters);
    const body = this.SUBRULE(this.steps, OF_PART);
    return { kind: 'part', span: this.spanFrom(first.startOffset), doc: first.doc, name, parameters, body };
  });

  protected parameters = this.RULE('parameters', (): Parameter[] => {
    const list: Parameter[] = [];
    if (this.need(1, LeftParenthesis, '`(` and the parameters, or `()`') === undefined) return list;
    this.MANY_SEP({
      SEP: Comma,
      DEF: () => {
        if (!this.RECORDING_PHASE && this.at(RightParenthesis)) return;
        list.push(this.SUBRULE(this.parameter));
        while (!this.RECORDING_PHASE && this.at(NameToken) && this.at(Equals, 2)) {
          this.reportMissing('`,` before the next parameter');
          list.push(this.subrule(2, this.parameter));
        }
      },
    });
    this.closeParenthesis(1);
    return list;
  });

  protected appliance = this.RULE('appliance', (): ApplianceItem => {
    const first = this.CONSUME(Appliance) as Token;
    const name = this.needName(1, 'a name for the appliance');
    let site: Site | undefined;
    this.OPTION(() => {
      site = this.SUBRULE(this.site);
    });
    const members = this.SUBRULE(this.members);
    const span = this.spanFrom(first.startOffset);
    return { kind: 'appliance', span, doc: first.doc, name, site, auxiliary: undefined, members };
  });

  /** `auxiliary tip_back of retraction [at molar 3 mm gingival] { … }` */
  protected auxiliary = this.RULE('auxiliary', (): ApplianceItem => {
    const first = this.CONSUME(AuxiliaryWord) as Token;
    const name = this.needName(1, 'a name for the auxiliary wire');
    let base: Name | undefined;
    if (
      this.need(1, Of, '`of` and the appliance that it belongs to, such as `auxiliary tip_back of retraction`') !==
      undefined
    ) {
      base = this.needName(2, 'the name of the appliance that it belongs to');
    }
    let at: Auxiliary['at'];
    this.OPTION(() => {
      this.CONSUME(At);
      const attachment = this.needName(3, 'an attachment of that appliance, such as `at molar 3 mm gingival`');
      const offsets: Offset[] = [];
      this.MANY(() => {
        offsets.push(this.SUBRULE(this.offset));
      });
      at = { attachment, offsets };
    });
    const members = this.SUBRULE(this.members);
    const span = this.spanFrom(first.startOffset);
    return { kind: 'appliance', span, doc: first.doc, name, site: undefined, auxiliary: { base, at }, members };
  });

  protected members = this.RULE('members', (): ApplianceMember[] => {
    const members: ApplianceMember[] = [];
    const open = this.openBlock(1, '`appliance`');
    if (open !== undefined) {
      this.skipStray('appliance');
      this.MANY(() => {
        members.push(this.SUBRULE(this.member));
        this.skipStray('appliance');
      });
      this.closeBlock(1, open, '`appliance`');
    }
    return members;
  });

  /** `variant light of closing_section { loop_height = 10 mm }` */
  protected variant = this.RULE('variant', (): VariantItem => {
    const first = this.CONSUME(Variant) as Token;
    const name = this.needName(1, 'a name for the variant');
    let base: Name | undefined;
    if (
      this.need(1, Of, '`of` and the appliance that it varies, such as `variant light of closing_loop`') !== undefined
    ) {
      base = this.needName(2, 'the name of the appliance that it varies');
    }
    let site: Site | undefined;
    this.OPTION2(() => {
      site = this.SUBRULE(this.site);
    });
    const values: Argument[] = [];
    const open = this.openBlock(1, '`variant`');
    if (open !== undefined) {
      this.skipStray('variant');
      this.MANY(() => {
        values.push(this.SUBRULE(this.argument));
        this.OPTION3(() => this.CONSUME(Comma));
        this.skipStray('variant');
      });
      this.closeBlock(1, open, '`variant`');
    }
    return { kind: 'variant', span: this.spanFrom(first.startOffset), doc: first.doc, name, base, site, values };
  });

  /** `on upper left` or `in upper arch` */
  protected site = this.RULE('site', (): Site => {
    const start = this.ahead(1).startOffset;
    let kind: Site['kind'] = 'quadrant';
    let side: Name | undefined;
    this.OR([
      { ALT: () => this.CONSUME(On) },
      {
        ALT: () => {
          this.CONSUME(In);
          kind = 'arch';
        },
      },
    ]);
    const form = kind === 'quadrant' ? 'on upper left' : 'in upper arch';
    const arch = this.needName(1, `\`upper\` or \`lower\`, such as \`${form}\``);
    if (this.RECORDING_PHASE || arch) {
      if (this.RECORDING_PHASE || kind === 'quadrant') side = this.needName(2, '`left` or `right` of the patient');
      else this.need(3, NameToken, '`arch`, such as `in upper arch`');
    }
    return { span: this.spanFrom(start), kind, arch, side };
  });
}

const Use = word('use');
const Alloy = word('alloy');
const Section = word('section');
const Slot = word('slot');
const Part = word('part');
const Appliance = word('appliance');
const Variant = word('variant');
const AuxiliaryWord = word('auxiliary');
const At = word('at');
const Of = word('of');
const In = word('in');
const On = word('on');
const OF_PART: { ARGS: [string] } = { ARGS: ['`part`'] };
