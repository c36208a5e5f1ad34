/**
 * Seeded random closing loops between two attachments, in the ranges of the issue: loop heights 4 to 10 mm, gables
 * 0 to 60° a side, V bends 0 to 60°, spans 8 to 25 mm, anti-rotation bends ±30°, three sections, two alloys.
 */
import type { ApplianceDesign, Section, WireElement } from '#core/design';
import { bend, betaTitanium, preactivate, steel, straight, twoAttachments } from '../oracle/designs';

const radian = Math.PI / 180;

export const sections: readonly Section[] = [
  { kind: 'rectangle', height: 0.4064, width: 0.5588, cornerRadius: 0 },
  { kind: 'rectangle', height: 0.4318, width: 0.635, cornerRadius: 0 },
  { kind: 'rectangle', height: 0.4826, width: 0.635, cornerRadius: 0 },
];

/** Numbers from 0 to 1 from a seed (Mulberry32, public domain). */
export function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function randomDesign(random: () => number): ApplianceDesign {
  const between = (low: number, high: number) => low + (high - low) * random();
  const wishedSpan = between(8, 25);
  const height = between(4, 10);
  const width = between(1.5, 3);
  const closed = random() < 0.5;
  const radius = 0.6;
  const [gableFirst, gableLast, vBend] = [between(0, 60), between(0, 60), between(0, 60)].map((a) => a * radian);
  const [rollFirst, rollLast] = [between(-30, 30), between(-30, 30)].map((a) => a * radian);
  const slots: [number, number] = [between(1.5, 4), between(1.5, 3)];
  const pull = random() < 0.5;
  const section = sections[Math.floor(random() * sections.length)];
  const alloy = random() < 0.5 ? steel : betaTitanium;

  const firstBends = [
    preactivate([0, 0, vBend], radius),
    preactivate([0, rollFirst, 0], radius),
    preactivate([0, 0, gableFirst], radius),
  ];
  const lastBends = [preactivate([0, 0, gableLast], radius), preactivate([0, rollLast, 0], radius)];
  const bent = [...firstBends, ...lastBends].reduce((total, element) => total + element.length, 0);
  // An open loop takes its width and both base bends of the span; a closed one gives its width back.
  const taken = (closed ? -width : width) + 2 * radius;
  const straights = wishedSpan - bent - taken - (slots[0] + slots[1]) / 2;
  // Where the span is too short for all of it, it grows to what the parts need.
  const free = Math.max(straights, 0.8 + (closed ? width + 0.4 : 0));
  // Wire between the first slot and the first bend, which a pull draws on, and the last slot and the last bend.
  const [first, second, third, last] = shares(free, [
    between(0.2, 1),
    between(0.2, 1),
    between(0.2, 1),
    between(0.2, 1),
  ]);
  const legs = height - radius - width / 2;
  // Wire behind either slot, enough for a neutral position that lets the wire back through it.
  const beyond = 12;
  const elements: WireElement[] = [
    straight(beyond + slots[0] / 2 + first),
    ...firstBends,
    straight(second),
    bend(Math.PI / 2, radius),
    straight(legs),
    bend(closed ? Math.PI : -Math.PI, width / 2),
    straight(legs),
    bend(Math.PI / 2, radius),
    straight(third),
    ...lastBends,
    straight(last + slots[1] / 2 + beyond),
  ].filter((element) => element.length > 0);
  const total = elements.reduce((sum, element) => sum + element.length, 0);
  return twoAttachments({
    elements,
    section,
    alloy,
    seats: [beyond, total - beyond],
    lengths: slots,
    fittings: ['tube', 'bracket'],
    activation: {
      motion: pull ? { kind: 'pull', attachment: 0 } : { kind: 'move', attachment: 1, direction: [1, 0, 0] },
      stages: [0, 1, 2],
    },
  });
}

/** Splits a length in the given proportions. */
function shares(length: number, proportions: readonly number[]): number[] {
  const total = proportions.reduce((sum, value) => sum + value, 0);
  return proportions.map((value) => (length * value) / total);
}
