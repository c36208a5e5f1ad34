/** Whatever the text: resolving returns, and never throws. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { library } from '#library';
import { DIAGNOSTICS } from '#model/diagnostics/catalogue';
import { resolveFile } from '#model/resolve';
import { CLOSING_SECTION } from './closing-section';
import { resolveText } from './resolve-text';

const modules = new Map([...library].map(([name, text]) => [name, resolveText(text)]));

function resolveLoosely(text: string) {
  return resolveFile('file:///test.spring', parse(text).tree, text, (path) => {
    const file = modules.get(path);
    return file ? { kind: 'module', file } : { kind: 'missing' };
  });
}

function expectWellFormed(text: string): void {
  for (const { code, span, message } of resolveLoosely(text).problems) {
    expect(DIAGNOSTICS.has(code), code).toBe(true);
    expect(span.start).toBeGreaterThanOrEqual(0);
    expect(span.end).toBeGreaterThanOrEqual(span.start);
    expect(span.end).toBeLessThanOrEqual(text.length);
    expect(message).not.toMatch(/undefined|NaN|\[object/);
  }
}

describe('half-written files', () => {
  it('resolves every prefix of the language note’s example', () => {
    for (let end = 0; end <= CLOSING_SECTION.length; end++) expectWellFormed(CLOSING_SECTION.slice(0, end));
  });

  it('resolves the example with any piece cut out or doubled', () => {
    const place = fc.integer({ min: 0, max: CLOSING_SECTION.length });
    fc.assert(
      fc.property(place, fc.integer({ min: 1, max: 60 }), fc.boolean(), (start, length, doubled) => {
        const piece = CLOSING_SECTION.slice(start, start + length);
        const rest = CLOSING_SECTION.slice(start + (doubled ? 0 : length));
        expectWellFormed(CLOSING_SECTION.slice(0, start) + (doubled ? piece : '') + rest);
      }),
      { numRuns: 300, seed: 7 },
    );
  });

  it('shows what can be shown', () => {
    const cut = CLOSING_SECTION.replace('straight 4 mm', 'straight');
    const [appliance] = resolveLoosely(cut).appliances;
    expect(appliance.design).toBeUndefined();
    expect(appliance.steps.length).toBeGreaterThan(10);
    expect(appliance.parameters.map(({ name }) => name)).toEqual(['loop_height', 'gable', 'tip_back']);
  });

  it('adds nothing to what the syntax already says', () => {
    const open = CLOSING_SECTION.slice(0, CLOSING_SECTION.indexOf('  tube    molar'));
    const codes = resolveLoosely(open).problems.map(({ code }) => code);
    expect(codes).not.toContain('missing-path');
    expect(codes).not.toContain('attachment-without-seat');
  });
});

describe('a file without anything in it', () => {
  it('says so, and says it of nothing else', () => {
    const codes = (text: string) => resolveLoosely(text).problems.map(({ code }) => code);
    expect(codes('')).toEqual(['empty-file']);
    expect(codes('// a thought\n')).toEqual(['empty-file']);
    expect(codes('let a = 1 mm\n')).toEqual([]);
    expect(codes('applia')).toEqual([]);
  });
});

describe('the bundled library', () => {
  it('resolves without a problem', () => {
    for (const [name, file] of modules) {
      expect(parse(library.get(name) ?? '').problems).toEqual([]);
      expect(file.problems, name).toEqual([]);
    }
  });

  it('states the source of every figure of an alloy', () => {
    for (const { node } of modules.get('alloys')?.exports.values() ?? []) {
      if (node.kind !== 'alloy') continue;
      for (const property of node.properties) expect(property.source?.state, node.name?.text).toBeDefined();
    }
  });
});

describe('the catalogue', () => {
  it('has a page for every diagnostic under its own code', () => {
    for (const [code, { title, documentation }] of DIAGNOSTICS) {
      expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(title.length).toBeGreaterThan(4);
      // What it means and how to mend it, and an example.
      const [meaning, example] = documentation.split('\n\n```spring\n');
      expect(meaning.length, code).toBeGreaterThan(60);
      expect(example, code).toMatch(/.{10}[\s\S]*\n```$/);
    }
  });
});

describe('names and values for the editor', () => {
  it('records uses of a name with its definition, and values where they stand', () => {
    const file = resolveLoosely(CLOSING_SECTION);
    const uses = file.references.filter(({ definition }) => definition.name === 'gable');
    expect(uses.map(({ span }) => CLOSING_SECTION.slice(span.start, span.end))).toEqual(['gable', 'gable', 'gable']);
    const loop = file.references.find(
      ({ definition }) => definition.kind === 'part' && definition.name === 'closed_loop',
    );
    expect(loop?.definition.uri).toBe('file:///test.spring');
    const valued = file.evaluated.filter(({ span }) => CLOSING_SECTION.slice(span.start, span.end) === 'tip_back');
    expect(valued[0].value.value).toBeCloseTo((22 * Math.PI) / 180, 12);
  });
});
