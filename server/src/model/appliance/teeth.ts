/** Attachments on teeth: `on teeth 15 .. 25` stands for one on each. */
import type { AttachmentClause, AttachmentMember, Name, TeethRange } from '#grammar/tree';
import { toothNumber } from '../diagnostics/tooth-number';
import type { Recorder } from '../names/scope';
import { type Site, sitePhrase, standsAt, USUAL_SITE } from '../site';
import { type Tooth, teethBetween, toothOf, toothPhrase } from '../teeth';

/** One attachment, with the tooth that it is on. */
export interface AttachmentOnTooth {
  /** With a name of its own: that of its line, or `tooth_16`. */
  readonly node: AttachmentMember;
  readonly tooth: Tooth | undefined;
}

export interface Sites {
  /** Where the appliance sits here. */
  readonly site: Site;
  /** Where its own text says that it sits, for which its tooth numbers are written. */
  readonly written: Site;
  /** Whether the text says so at all. */
  readonly stated: boolean;
}

export function attachmentsOnTeeth(
  members: readonly AttachmentMember[],
  sites: Sites,
  recorder: Recorder,
): AttachmentOnTooth[] {
  return members.flatMap((node): AttachmentOnTooth[] => {
    const clause = node.clauses.find((one): one is Extract<AttachmentClause, { kind: 'on' }> => one.kind === 'on');
    if (!clause) return [{ node, tooth: undefined }];
    const teeth = clause.teeth.flatMap((range) => teethOf(range, sites, recorder));
    if (node.name) {
      if (teeth.length > 1) {
        const message = `${node.name.text} is one attachment and can be on one tooth. Leave its name out for one on each tooth.`;
        recorder.problem(toothNumber.at(clause.span, message));
      }
      return [{ node, tooth: teeth[0]?.tooth }];
    }
    return teeth.map(({ tooth, written }) => ({
      node: { ...node, name: { text: `tooth_${tooth.number}`, span: written.span } },
      tooth,
    }));
  });
}

/** The teeth of a range; what is wrong with it is recorded. */
export function teethOf(
  { span, from, to }: TeethRange,
  sites: Sites,
  recorder: Recorder,
): { readonly tooth: Tooth; readonly written: Name }[] {
  const first = readTooth(from, sites, recorder);
  if (!to) return first ? [{ tooth: first, written: from }] : [];
  const last = readTooth(to, sites, recorder);
  if (!first || !last) return [];
  const teeth = teethBetween(first, last);
  if (!teeth) {
    recorder.problem(toothNumber.at(span, `Teeth ${from.text} and ${to.text} stand in different arches.`));
    return [];
  }
  return teeth.map((tooth) => ({
    tooth,
    written: tooth.number === first.number ? from : tooth.number === last.number ? to : { text: '', span },
  }));
}

function readTooth(name: Name, { site, written, stated }: Sites, recorder: Recorder): Tooth | undefined {
  const tooth = toothOf(name.text);
  if (!tooth) {
    const message = `${name.text} is no permanent tooth. ISO 3950 numbers are a quadrant, 1 to 4, and a place from the midline, 1 to 8: 16 is the upper right first molar.`;
    recorder.problem(toothNumber.at(name.span, message));
    return undefined;
  }
  if (!standsAt(tooth, written)) {
    const where = `Tooth ${name.text} is the ${toothPhrase(tooth)}`;
    const unsaid = stated ? '' : `, as nothing else is said`;
    const mend = {
      kind: written.kind,
      arch: tooth.arch,
      side: written.kind === 'arch' ? undefined : tooth.side,
    } as const;
    const message = `${where}; this appliance sits ${sitePhrase(written)}${unsaid}. For that tooth the appliance says \`${sitePhrase(mend)}\` after its name.`;
    recorder.problem(toothNumber.at(name.span, message));
    return undefined;
  }
  return carried(tooth, written, site);
}

/** The same tooth on the side where a variant of the appliance sits. */
function carried(tooth: Tooth, written: Site, site: Site): Tooth {
  const arch = site.arch;
  const side = written.kind === 'quadrant' && site.side ? site.side : tooth.side;
  const quadrant = arch === 'upper' ? (side === 'right' ? 1 : 2) : side === 'left' ? 3 : 4;
  return { ...tooth, arch, side, number: 10 * quadrant + tooth.position };
}

export const USUAL_SITES: Sites = { site: USUAL_SITE, written: USUAL_SITE, stated: false };
