/** A drawing taken apart for paper: its style sheet holds as the cascade has it (CSS 2.2, 6.4: specificity, order, inheritance). */
import { expect, it } from 'vitest';
import { drawAppliance } from '#drawing/appliance';
import { standaloneDrawing } from '#drawing/standalone';
import { drawingMarks, type Mark } from '#sheet/drawing-marks';
import { closingSpring } from '../drawing/synthetic';

const marksOf = (css: string, body: string): readonly Mark[] =>
  drawingMarks(`<svg class="drawing" viewBox="0 0 40 30"><style>${css}</style>${body}</svg>`).marks;

it('gives a mark what the weightiest rule says, of equal ones the last, and its own attribute last of all', () => {
  const css = '.drawing .a { fill: #111111; } .a { fill: #222222; } .b { fill: #333333; } .b { fill: #444444; }';
  const body =
    '<rect class="a" width="1"/><rect class="b" width="2" fill="#555555"/><rect width="3" fill="#666666"/><rect width="4"/>';
  const fills = marksOf(css, body).map(({ look }) => look.fill);
  expect(fills).toEqual(['#111111', '#444444', '#666666', '#000000']);
});

it('takes over colours and lettering from what is around, multiplies opacity, and goes through no closed element', () => {
  const css = '.wire { stroke: #123456; opacity: 0.5; } .wire .core { opacity: 0.5; } .core { stroke-dasharray: 7 4; }';
  const body =
    '<g class="wire" fill="none" transform="translate(3 4) rotate(30)"><path class="core" d="M0 0L1 1"/></g><path class="core" d="M0 0L1 1"/>';
  const [inside, outside] = marksOf(css, body);
  expect(inside.look).toMatchObject({ fill: undefined, stroke: '#123456', opacity: 0.25, dash: [7, 4] });
  expect(inside.moves).toEqual([
    { kind: 'translate', by: [3, 4] },
    { kind: 'rotate', angle: 30 },
  ]);
  expect(outside.look).toMatchObject({ fill: '#000000', stroke: undefined, opacity: 1 });
  expect(outside.moves).toEqual([]);
});

it('leaves out what cannot be seen, and what waits for a pointer', () => {
  const css = '.step { stroke: transparent; } .step:hover { stroke: #ff0000; }';
  expect(marksOf(css, '<path class="step" d="M0 0L1 1" fill="none"/>')).toEqual([]);
});

it('reads every word, colour and place of a drawing', () => {
  const svg = standaloneDrawing(drawAppliance(closingSpring()) as string);
  const { width, height, marks } = drawingMarks(svg);
  const [, , ...size] = /viewBox="([^"]*)"/.exec(svg)![1].split(' ').map(Number);
  expect([width, height]).toEqual(size);
  expect(marks.filter(({ kind }) => kind === 'text')).toHaveLength(svg.match(/<text/g)!.length);
  for (const mark of marks) {
    for (const colour of [mark.look.fill, mark.look.stroke]) if (colour) expect(colour).toMatch(/^#[0-9a-f]{6}$/);
    expect(JSON.stringify(mark)).not.toContain('null');
  }
  // Vermillion of the palette, for forces.
  expect(marks.some(({ look }) => look.stroke === '#d55e00')).toBe(true);
});
