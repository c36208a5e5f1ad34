/** After an edit, what is taken over from the text before is what the whole text comes to when it is opened afresh. */
import { expect, it } from 'vitest';
import type { Snapshot } from '#workspace/snapshot';
import { createWorkspace } from '#workspace/workspace';

const uri = 'file:///sections.spring';

const appliance = (name: string) => `appliance ${name} {
  wire 0.016 in x 0.022 in of beta_titanium
  param side = reach in 1 mm .. 9 mm
  path running mesial {
    straight 9 mm
    seat molar
    straight side
    preactivate 10 deg toward gingival
    straight 15 mm
    seat canine
    straight 3 mm
  }
  tube molar length 4 mm
  bracket canine width 3 mm
  require when engaged {
    molar.force.total <= limit because "a rule of this file"
    molar.force.total <= limit
    canine.moment.total in 0 N mm .. 50 N mm
  }
  prefer when engaged {
    molar.force.total <= limit
  }
}
`;

const text = `use "alloys"
use "./limits.spring"
let reach = 5 mm

${appliance('first')}
${appliance('second')}
variant short of second {
  side = 4 mm
}
`;

const files = (limit: string) => async (asked: string) =>
  asked === 'file:///limits.spring' ? `let limit = ${limit}\n` : undefined;

/** All that is shown, with the place of everything. */
function shown({ problems, appliances, unfinished }: Snapshot) {
  return {
    problems,
    unfinished,
    appliances: appliances.map(({ appliance, verdicts, analysis, design, workingActivation, stale, problems }) => ({
      ...{ name: appliance.name, analysis, design, workingActivation, stale, problems },
      verdicts: verdicts.map(({ requirement, condition, ...rest }) => ({
        ...{ requirement: requirement.node.span, condition: condition.span },
        ...rest,
      })),
    })),
  };
}

const edits: Readonly<Record<string, (given: string) => string>> = {
  'a line before everything': (given) => `// A note.\n${given}`,
  'a number of the first': (given) => given.replace('10 deg', '12.5 deg'),
  'a comment in the second': (given) => given.replace(/(appliance second \{)/, '$1 // A note.'),
  'a line between the second and its variant': (given) => given.replace('variant', '\n\nvariant'),
  'a value of the variant': (given) => given.replace('side = 4 mm', 'side = 6 mm'),
  'a value of the file': (given) => given.replace('reach = 5 mm', 'reach = 5.5 mm'),
  'a limit that now stands in the file': (given) =>
    given.replace('use "./limits.spring"', 'let limit = 400 gf').replace('reach = 5 mm', 'reach = 5.5 mm'),
  'the name of an appliance': (given) => given.replace('appliance first', 'appliance foremost'),
  'another bound': (given) => given.replace(/limit\n {2}\}/, '1 gf\n  }'),
  'a bracket that is not closed': (given) => given.replace('tube molar length 4 mm\n', 'tube molar length (\n'),
};

it.each(Object.entries(edits))('%s', async (_, edit) => {
  const workspace = createWorkspace({ readFile: files('30 gf'), trialsLater: true });
  workspace.open(uri, text, 1);
  const before = (await workspace.snapshot(uri))!;
  expect(before.problems.map(({ code }) => code)).toContain('requirement-missed');
  const edited = edit(text);
  workspace.open(uri, edited, 2);
  const after = (await workspace.snapshot(uri))!;
  const fresh = createWorkspace({ readFile: files('30 gf'), trialsLater: true });
  fresh.open(uri, edited, 2);
  const opened = (await fresh.snapshot(uri))!;
  // What is stale has no counterpart in a text that is opened broken.
  const stale = after.appliances.map((one) => one.stale);
  const whole = (snapshot: Snapshot) => {
    const all = shown(snapshot);
    return { ...all, appliances: all.appliances.filter((_, index) => !stale[index]) };
  };
  expect(whole(after)).toEqual(whole(opened));
});

it('evaluates only the appliance that was written in', async () => {
  const workspace = createWorkspace({ readFile: files('30 gf') });
  workspace.open(uri, text, 1);
  const before = (await workspace.snapshot(uri))!;
  workspace.open(uri, text.replace('10 deg', '12 deg'), 2);
  const after = (await workspace.snapshot(uri))!;
  const same = after.appliances.map(({ problems }, index) => problems === before.appliances[index].problems);
  expect(same).toEqual([false, true, true]);
});

it('evaluates again where a module or the units have changed', async () => {
  let limit = '30 gf';
  const workspace = createWorkspace({ readFile: (asked) => files(limit)(asked) });
  workspace.open(uri, text, 1);
  const missed = (snapshot?: Snapshot) => snapshot!.problems.filter(({ code }) => code === 'requirement-missed');
  const inNewtons = missed(await workspace.snapshot(uri, { force: 'N' }));
  expect(inNewtons.length).toBeGreaterThan(0);
  const inGrams = missed(await workspace.snapshot(uri));
  expect(inGrams.map(({ message }) => message)).not.toEqual(inNewtons.map(({ message }) => message));
  limit = '2000 gf';
  workspace.forget('file:///limits.spring');
  expect(missed(await workspace.snapshot(uri))).toEqual([]);
});
