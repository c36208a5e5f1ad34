/** While a file is being typed it ends anywhere: it always parses, to a tree and to what is missing. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from '#grammar/parser';
import { tokenize } from '#grammar/tokens';

const examples = resolve(import.meta.dirname, '../../examples');
const files = readdirSync(examples).filter((name) => name.endsWith('.spring'));

/** What an editor closes by itself. */
const closings = ['', '\n}', '\n}\n}', ' }\n}\n}', ')', ' {', ' {\n}', '\nappliance next {\n}'];

describe.each(files)('%s', (name) => {
  it('parses to a tree wherever it ends, and is told of what is missing', () => {
    const text = readFileSync(resolve(examples, name), 'utf8');
    for (const { end } of tokenize(text).tokens) {
      for (const closing of closings) {
        const unfinished = text.slice(0, end) + closing;
        const { tree, problems } = parse(unfinished);
        expect(Array.isArray(tree.items), unfinished.slice(-120)).toBe(true);
        for (const { span } of problems) {
          expect(span.start).toBeGreaterThanOrEqual(0);
          expect(span.end).toBeLessThanOrEqual(unfinished.length);
        }
      }
    }
  });
});
