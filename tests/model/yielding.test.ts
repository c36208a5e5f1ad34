/** Trial activation and yielding as a file writes them and reads them back. */
import { describe, expect, it } from 'vitest';
import { evaluateAppliance } from '#model/evaluate';
import type { EvaluatedAppliance } from '#model/resolved';
import { checkProblems } from './fixture';
import { resolveAppliance } from './resolve-text';

const gabled = (lines: string, { gable = '45 deg', alloy = 'beta_titanium' } = {}) => `use "alloys"
use "loops"
appliance gabled {
  wire 0.019 in x 0.025 in of ${alloy}
  path running mesial {
    straight 10 mm
    seat molar
    straight 6 mm
    preactivate ${gable} toward gingival
    closed_loop(height = 7 mm, width = 2 mm, beside = 0 mm) as loop
    preactivate ${gable} toward gingival
    straight 6 mm
    seat canine
    straight 2 mm
  }
  tube molar slot 0.022 in x 0.028 in, length 3 mm
  bracket canine slot 0.022 in x 0.028 in, width 3 mm
  activation pull through molar 0 mm .. 3 mm step 1 mm
${lines}
}
`;

function evaluate(text: string): EvaluatedAppliance {
  return evaluateAppliance(resolveAppliance(text), text);
}

const named = (results: readonly string[]) =>
  `  require at activation 1 mm {\n${results.map((line) => `    ${line}`).join('\n')}\n  }`;

describe('a trial activation', () => {
  it('is read into the design and followed', () => {
    const { appliance, analysis } = evaluate(gabled('  trial activation 3 mm'));
    expect(appliance.design?.trialActivation).toBe(3);
    expect(appliance.design?.alloy.law).toEqual({ kind: 'elastic-plastic', yield: 900, hardening: 660 });
    expect(analysis?.yielding?.stages).toBe('after-trial');
  });

  it('has its results, which agree with the analysis', () => {
    const text = gabled(
      `  trial activation 3 mm\n${named([
        'activation.neutral_after > activation.neutral_before',
        'activation.neutral_after == activation.neutral'.replace('==', '<='),
        'activation.amount <= activation.without_set',
        'wire.set > 5 deg',
        'wire.fibre_stress < 1.1 * wire.yield',
        'abs(loop.leg_gap_set) < 1 mm',
      ])}`,
    );
    const { verdicts, analysis } = evaluate(text);
    expect(verdicts.map(({ outcome }) => outcome)).toEqual(Array.from({ length: 6 }, () => 'met'));
    expect(verdicts[3].actual?.value).toBe(analysis?.yielding?.trial?.setTurn);
    expect(verdicts[0].actual?.value).toBe(analysis?.yielding?.trial?.neutral.motion);
  });

  it('leaves an elastic wire as it was', () => {
    const text = gabled(`  trial activation 1 mm\n${named(['wire.set < 0.01 deg'])}`, {
      gable: '2 deg',
      alloy: 'steel',
    });
    const { verdicts, analysis } = evaluate(text.replace('0 mm .. 3 mm step 1 mm', '0 mm .. 1 mm step 0.5 mm'));
    expect(verdicts[0].outcome).toBe('met');
    expect(analysis?.yielding?.trial?.neutral.motion).toBeCloseTo(analysis!.yielding!.first.neutral.motion, 3);
  });

  it('must be of an activation, positive, and there once', () => {
    checkProblems(`use "alloys"
appliance engaged_only {
  wire 0.016 in x 0.022 in of steel
  path running mesial {
    straight 5 mm
    seat molar
    straight 20 mm
    seat canine
    straight 5 mm
  }
  tube molar
  tube canine
  trial activation 1 mm
//^^^^^^^^^^^^^^^^^^^^^ error activation-not-declared: declares no activation
}
`);
    const withTrial = (line: string) =>
      gabled(line, { gable: '2 deg' })
        .split('\n')
        .filter((one) => one !== '')
        .join('\n');
    checkProblems(
      withTrial(`  trial activation 0 mm
//                 ^^^^ error activation-range: it must be more than 0`),
    );
    checkProblems(
      withTrial(`  trial activation 1 N
//                 ^^^ error unit-mismatch: is a length`),
    );
    checkProblems(
      withTrial(`  trial activation 1 mm
  trial activation 2 mm
//^^^^^ error duplicate-member: trial activation`),
    );
  });
});

describe('findings of yielding', () => {
  it('say what a trial activation would change', () => {
    const { problems } = evaluate(gabled(''));
    const found = problems.find(({ code }) => code === 'stress-past-yield');
    expect(found?.message).toMatch(
      /A trial activation to 3 mm would leave a set of [\d.]+ deg between its attachments and move neutral from -[\d.]+ mm to -[\d.]+ mm; [\d.]+ mm of activation is then free of further set/,
    );
    expect(found?.hint).toContain('"trial activation 3 mm"');
  });

  it('are still when the wire was pulled as far on trial, and speak up beyond', () => {
    const pulledFar = evaluate(gabled('  trial activation 5 mm').replace('0 mm .. 3 mm', '0 mm .. 1 mm'));
    expect(pulledFar.problems.map(({ code }) => code)).not.toContain('stress-past-yield');
    expect(pulledFar.problems.map(({ code }) => code)).not.toContain('further-set');
    const { problems } = evaluate(gabled('  trial activation 1 mm'));
    expect(problems.find(({ code }) => code === 'further-set')?.message).toMatch(
      /At [\d.]+ mm of activation .* up to [\d.]+ mm/,
    );
  });

  it('are those of the wire of every stretch, where a path steps from one to another', () => {
    const stepped = gabled('  trial activation 3 mm')
      .replace('    preactivate', '    section 0.016 in x 0.022 in of steel\n    preactivate')
      .replace('straight 6 mm\n    seat canine', 'section round 0.012 in doubled\n    straight 6 mm\n    seat canine');
    const { problems, analysis } = evaluate(stepped);
    expect(problems.map(({ code }) => code)).not.toContain('trial-not-followed');
    expect(analysis?.unfollowed).toBeUndefined();
    expect(analysis?.yielding?.stages).toBe('after-trial');
    expect(analysis?.yielding?.trial?.set.length).toBeGreaterThan(0);
  });

  it('are those of a wire that slides or is cinched', () => {
    for (const lengthwise of ['sliding', 'cinched']) {
      const text = gabled('  trial activation 3 mm')
        .replace('straight 2 mm\n  }', 'straight 8 mm\n    seat lateral\n    straight 6 mm\n  }')
        .replace(
          'width 3 mm\n',
          `width 3 mm, sliding\n  bracket lateral slot 0.022 in x 0.028 in, width 3 mm${lengthwise === 'cinched' ? ', cinched' : ''}\n`,
        );
      const { problems, analysis } = evaluate(text);
      expect(problems.map(({ code }) => code)).not.toContain('trial-not-followed');
      expect(analysis?.unfollowed).toBeUndefined();
      expect(analysis?.yielding?.stages).toBe('after-trial');
      expect(analysis?.neutral?.slid[1]).not.toBe(0);
    }
  });

  it.each([
    ['has play', 'bracket canine slot 0.022 in x 0.028 in, width 3 mm, sliding, with play', ''],
    ['runs past a hook', 'hook canine', ''],
    [
      'bears a load',
      'bracket canine slot 0.022 in x 0.028 in, width 3 mm, sliding',
      '  elastic pull from canine to lateral force 50 gf',
    ],
    [
      'is pulled upon itself',
      'bracket canine slot 0.022 in x 0.028 in, width 3 mm, sliding',
      '  elastic pull from middle to lateral force 50 gf',
    ],
  ])('are those of a wire that %s', (_, canine, load) => {
    const text = gabled(`  trial activation 3 mm\n${load}`)
      .replace(
        'straight 2 mm\n  }',
        'straight 4 mm\n    mark middle\n    straight 4 mm\n    seat lateral\n    straight 6 mm\n  }',
      )
      .replace(/ {2}bracket canine .*\n/, `  ${canine}\n  bracket lateral slot 0.022 in x 0.028 in, width 3 mm\n`);
    const { problems, analysis } = evaluate(text);
    expect(problems.map(({ code }) => code)).not.toContain('trial-not-followed');
    expect(analysis?.unfollowed).toBeUndefined();
    expect(analysis?.yielding?.stages).toBe('after-trial');
    expect(analysis?.yielding?.trial?.set.length).toBeGreaterThan(0);
  });

  it('say where a trial activation cannot be followed', () => {
    const { problems, analysis } = evaluate(gabled('  trial activation 30 mm'));
    expect(analysis?.unfollowed).toBeDefined();
    expect(problems.map(({ code }) => code)).toContain('trial-not-followed');
  });
});

describe('alloys', () => {
  it('may be superelastic, and are then not past yield on their plateau', () => {
    const { appliance, analysis, problems } = evaluate(gabled('', { alloy: 'nickel_titanium_superelastic' }));
    expect(appliance.design?.alloy.law?.kind).toBe('superelastic');
    expect(appliance.design?.alloy.yield).toBe(430);
    expect(analysis?.yielding).toBeDefined();
    expect(problems.map(({ code }) => code)).not.toContain('stress-past-yield');
  });

  it('harden by 1 % of their modulus where they do not say', () => {
    const text = gabled('').replace(
      'use "loops"\n',
      'use "loops"\nalloy own {\n  modulus = 70 GPa\n  poisson = 0.3\n  yield = 900 MPa\n  inner_radius = 1.5\n}\n',
    );
    const { appliance } = evaluate(text.replace('of beta_titanium', 'of own'));
    expect(appliance.design?.alloy.law).toEqual({ kind: 'elastic-plastic', yield: 900, hardening: 700 });
    const perfect = evaluate(
      text.replace('of beta_titanium', 'of own').replace('  inner_radius', '  hardening = 0 GPa\n  inner_radius'),
    );
    expect(perfect.appliance.design?.alloy.law).toMatchObject({ hardening: 0 });
  });
});
