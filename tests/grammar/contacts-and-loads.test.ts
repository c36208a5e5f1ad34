import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { format } from '#grammar/printer';
import type { ApplianceItem, ApplianceMember, AttachmentClause, Name } from '#grammar/tree';

function member(line: string): ApplianceMember {
  const { tree, problems } = parse(`appliance a {\n  ${line}\n}\n`);
  expect(problems).toEqual([]);
  const { members } = tree.items[0] as ApplianceItem;
  expect(members).toHaveLength(1);
  return members[0];
}

function clauses(line: string): readonly AttachmentClause[] {
  const found = member(line);
  return found.kind === 'attachment' ? found.clauses : [];
}

function problems(line: string): string[] {
  return parse(`appliance a {\n  ${line}\n}\n`).problems.map(({ message }) => message);
}

describe('how a wire is held lengthwise', () => {
  it.each([
    ['tube molar slot s022, length 4 mm, cinched', ['slot', 'length', 'cinched']],
    ['bracket canine width 0.1 in sliding friction 0.15', ['length', 'sliding', 'friction']],
    ['bracket canine slot s022 width 0.1 in with play', ['slot', 'length', 'play']],
    ['hook incisor at 25 mm mesial\n    sliding', ['at', 'sliding']],
    ['bracket canine slot 0.022 in x 0.028 in with play, tip 5 deg', ['slot', 'play', 'tip']],
  ])('%s', (line, kinds) => expect(clauses(line).map(({ kind }) => kind)).toEqual(kinds));

  it.each([
    ['tube molar with', 'Expected `play`, as in `with play`, after `with`.'],
    ['tube molar friction', 'Expected the coefficient of friction, such as `0.15`, after `friction`.'],
  ])('%s', (line, message) => expect(problems(line)).toEqual([message]));
});

describe('loads', () => {
  const text = (name: Name | undefined) => name?.text;

  it.each([
    ['elastic from canine to molar force 150 gf', 'elastic', undefined, 'canine', 'molar', 'force'],
    ['elastic closing from canine to molar force 150 gf', 'elastic', 'closing', 'canine', 'molar', 'force'],
    ['coil from hook_mark to molar rate 0.4 N/mm rest 8 mm', 'coil', undefined, 'hook_mark', 'molar', 'rate'],
    ['ligature force from rest to rate force 50 gf', 'ligature', 'force', 'rest', 'rate', 'force'],
  ])('%s', (line, fitting, name, from, to, law) => {
    const load = member(line);
    expect(load).toMatchObject({ kind: 'load', fitting, law: { kind: law } });
    if (load.kind === 'load') expect([load.name, load.from, load.to].map(text)).toEqual([name, from, to]);
  });

  it.each([
    ['elastic', 'Expected `from` and where it begins, such as `elastic from canine`, after `elastic`.'],
    ['elastic from', 'Expected the name of an attachment or of a mark after `from`.'],
    ['elastic from canine', 'Expected `to` and where it ends, such as `to molar`, after `canine`.'],
    ['coil from canine to molar', 'Expected `force` and how hard it pulls, or `rate` and `rest`, after `molar`.'],
    ['coil from a to b rate 1 N/mm', 'Expected `rest` and the length without force, such as `rest 8 mm`, after `mm`.'],
  ])('says what is missing in `%s`', (line, message) => {
    expect(problems(line)).toEqual([message]);
  });

  it('keeps a half-written load from swallowing the next line', () => {
    const { tree } = parse('appliance a {\n  elastic\n  coil from a to b force 1 N\n  tube a\n}\n');
    expect((tree.items[0] as ApplianceItem).members.map(({ kind }) => kind)).toEqual(['load', 'load', 'attachment']);
  });
});

it('lays them out, and leaves what is laid out as it is', () => {
  const laidOut = `appliance a {
  tube molar slot 0.022 in x 0.028 in, length 4 mm, cinched, friction 0.15
  bracket canine slot s022, width 3 mm, with play
  elastic closing from canine to molar force 150 gf
  coil from middle to molar rate 0.4 N/mm rest 8 mm
}
`;
  const loose = laidOut
    .replace(/ {2}/g, '')
    .replace(/\n(?=coil)/, ' ')
    .replace(', with', ' ,with')
    .replace('N/mm', 'N / mm');
  expect(format(loose)).toBe(laidOut);
  expect(format(laidOut)).toBe(laidOut);
});
