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
  const span = between(8, 25);
  const height = between(4, 10);
  const width = between(1.5, 3);
  const closed = random() < 0.5;
  const radius = 0.8;
  const [gableFirst, gableLast, vBend] = [between(0, 60), between(0, 60), between(0, 60)].map((a) => a * radian);
  const [rollFirst, rollLast] = [between(-30, 30), between(-30, 30)].map((a) => a * radian);
  const slots: [number, number] = [between(2, 4), between(2, 3)];
  const beyond = 4;
  const sectionIndex = Math.floor(random() * sections.length);
  const alloy = random() < 0.5 ? steel : betaTitanium;

  // What the loop and the preactivation bends need of the span; the rest is shared between the two arms.
  const bends = [
    preactivate([0, 0, vBend], radius),
    preactivate([0, rollFirst, 0], radius),
    preactivate([0, 0, gableFirst], radius),
  ];
  const lastBends = [preactivate([0, 0, gableLast], radius), preactivate([0, rollLast, 0], radius)];
  const used = [...bends, ...lastBends].reduce((total, element) => total + element.length, 0);
  // Foot to foot: open loops rise at -width/2, closed ones at +width/2 (base bends included).
  const entry = closed ? width / 2 - radius : -width / 2 - radius;
  const free = span - used - (slots[0] + slots[1]) / 2 - 0.4;
  const least = Math.abs(2 * entry);
  const share = between(0.2, 0.8);
  const arms = Math.max(free + 2 * entry, least * 0.1 + 0.4);
  const legs = height - radius - width / 2;
  const top = Math.PI * (closed ? 1 : -1);
  const elements: WireElement[] = [
    straight(beyond),
    straight(slots[0] / 2 + 0.2),
    ...bends,
    straight(arms * share),
    bend(Math.PI / 2, radius),
    straight(legs),
    bend(top, width / 2),
    straight(legs),
    bend(Math.PI / 2, radius),
    straight(arms * (1 - share)),
    ...lastBends,
    straight(slots[1] / 2 + 0.2),
    straight(beyond),
  ].filter((element) => element.length > 0);
  const total = elements.reduce((sum, element) => sum + element.length, 0);
  return twoAttachments({
    elements,
    section: sections[sectionIndex],
    alloy,
    seats: [beyond, total - beyond],
    lengths: slots,
    fittings: ['tube', 'bracket'],
    activation: { motion: { kind: 'pull', attachment: random() < 0.5 ? 0 : 1 }, stages: [0, 1, 2] },
  });
}
