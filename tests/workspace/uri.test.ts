import { expect, it } from 'vitest';
import { bundledName, canonicalUri, resolveUse } from '#workspace/uri';

it('finds bundled modules by name and files beside the one that uses them', () => {
  expect(resolveUse('file:///files/a.spring', 'alloys')).toBe('springwright-library:/alloys.spring');
  expect(resolveUse('file:///files/a.spring', './b.spring')).toBe('file:///files/b.spring');
  expect(resolveUse('file:///files/a.spring', 'b.spring')).toBe('file:///files/b.spring');
  expect(resolveUse('file:///files/sub/a.spring', '../parts/b.spring')).toBe('file:///files/parts/b.spring');
  expect(resolveUse('file:///a.spring', '../../b.spring')).toBe('file:///b.spring');
  expect(resolveUse('vscode-vfs://host/owner/a.spring', './b c.spring')).toBe('vscode-vfs://host/owner/b%20c.spring');
  expect(resolveUse('untitled:one', './b.spring')).toBe('untitled:b.spring');
  expect(resolveUse('springwright-library:/loops.spring', 'alloys')).toBe('springwright-library:/alloys.spring');
});

it('takes the spellings of a uri for one', () => {
  expect(canonicalUri('file:///c%3A/W%C3%A4hrung/it%27s.spring')).toBe(canonicalUri("file:///c:/Währung/it's.spring"));
  expect(canonicalUri('file:///100%.spring')).toBe('file:///100%25.spring');
  expect(canonicalUri('file:///\uD800.spring')).toBe(canonicalUri('file:///\uFFFD.spring'));
});

it('tells bundled modules from files', () => {
  expect(bundledName('springwright-library:/alloys.spring')).toBe('alloys');
  expect(bundledName('file:///alloys.spring')).toBeUndefined();
});
