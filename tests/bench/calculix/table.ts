/** The comparison with finite elements as a table in Markdown. */
import type { FiniteElementCase } from './cases/case';
import type { Differences, Level, Own } from './compare';

export interface Comparison {
  readonly one: FiniteElementCase;
  readonly own: Own;
  readonly coarse: Level;
  readonly fine: Level;
  readonly extrapolated: Differences;
  /** The product's own time, ms. */
  readonly milliseconds: number;
}

/** The mechanics note's aim: of the largest force and of the largest moment. */
export function aimOf({ plastic }: FiniteElementCase): number {
  return plastic ? 0.02 : 0.01;
}

export function verdict({ one, fine }: Comparison): string {
  const within = Math.max(fine.force, fine.moment) <= aimOf(one);
  return within ? 'within' : 'outside';
}

export function tableLines(comparisons: readonly Comparison[]): string[] {
  return [
    '| case | force, moment: coarse | fine | extrapolated | aim | bricks | finite elements, s | springwright, ms | ratio | own mesh | set, mm |',
    '| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |',
    ...comparisons.map((comparison) => {
      const { one, own, coarse, fine, extrapolated, milliseconds } = comparison;
      const cells = [
        `**${one.name}** ${one.about}`,
        percent(coarse),
        percent(fine),
        percent(extrapolated),
        `${100 * aimOf(one)} %: ${verdict(comparison)}`,
        `${coarse.bricks}, ${fine.bricks}`,
        `${seconds(coarse)}, ${seconds(fine)}`,
        milliseconds.toFixed(2),
        String(Math.round(coarse.milliseconds / milliseconds)),
        own.mesh ? percent(own.mesh) : '',
        own.set === undefined ? '' : [own, coarse, fine].map(({ set }) => set?.toFixed(3)).join(', '),
      ];
      return `| ${cells.join(' | ')} |`;
    }),
  ];
}

export function documentOf(comparisons: readonly Comparison[]): string {
  return `${[
    '# Against finite elements',
    '',
    'Each wire is written in the language and solved twice: by Springwright, and by CalculiX 2.20, a general finite-element',
    'program (Debian package `calculix-ccx`), as swept 20-node bricks with reduced integration (C3D20R) and large',
    'displacements. The deck is written from the resolved design and run when the table is made; nothing is stored. Made by:',
    '',
    '```',
    'WRITE_TABLE=1 npm run bench -- calculix',
    '```',
    '',
    'Differences are the largest over all stages, attachments and axes, in per cent of the largest force and of the largest',
    'moment of the case. Two mesh levels are run; *extrapolated* is where they lead if the error is of second order (Richardson).',
    'Springwright runs on its strict mesh; *own mesh* is how far the default mesh is from it (past yield there is one mesh), and its',
    'time is that of the default mesh on a warm process. *Ratio* is of the coarse finite-element run to it; both used one core of a shared machine.',
    '*Set* is how far a trial activation moves the neutral position: Springwright, coarse, fine.',
    '',
    ...tableLines(comparisons),
    '',
    'How the solid is held matters more than its mesh. Its end faces stay plane and square to the slot and keep their place',
    'and turn on the mean over the section, but may widen and narrow, as the sections of a rod do. Held rigidly, the wire is up to half a per',
    'cent stiffer. Straight wires are compared where nothing pulls along them, because held lengthwise a solid feels the square of its',
    'bending strain as a pull.',
    '',
    'In a bent wire a moment also stretches the middle line and a pull also turns the sections (theory of curved beams, Winkler), and its fibres',
    'press on each other along the radius, which makes that more by 1 + ν (Golovin): together of the share (1 + ν) h² / (6 R a), with h the thickness in',
    'the plane of the bend, R its radius and a the arm of the force. The rod has this. It bends as',
    'easily in a bend as in straight wire: plane sections would make a bend stiffer by (h/R)² / 15, the exact solution of a long one (Golovin)',
    'makes it softer by (h/R)² / 30, and the bends here lie between. *Short offset* is the case of which most is made of that: its wire is',
    'bent twice within 7 mm, held at both ends, with arms of little more than its thickness. Without what bends couple it would miss the force by',
    '4.2 % and the moment by 3.0 %, without the pressure along the radius by 1.5 and 1.2 %. Sharp corners are left',
    'out: there the solid has no rod to be compared with.',
    '',
    'Past yield both follow the same law: straight lines up to the yield strength and beyond it, kinematic hardening, von Mises. Both begin free of',
    'stress: what bending by hand leaves in a bend, with which the product begins, the solid does not know, and it is left out here (with it the force of a',
    'twisted wire with a steep bend is an eighth more). A wire that yields beside a face that is kept rigid while it is led into its slot bears less ever',
    'after, even where that face may widen in the end: the stiff bar would seem to differ by 1.6 and 2.2 %, the levelling step by 1.7 %. Faces',
    'that are not turned on their way may therefore widen all along it, turned ones from where they stand within 15° of their slot (from 5° on does the',
    'same to 0.02 %). How many points a solid has over its section counts as much: twelve bricks over the bar miss the moment of a partly yielded',
    'section by up to 2.6 %, the 48 here by 0.6 %, four bricks over the height of a rectangle by 1.6 %, six by 0.7 %. That strains are many per cent, as beside the',
    'slots of the stiff bar (8 %), matters little: with modulus and slope of hardening ten times as large and a tenth of the movement, the levelling step',
    'differs by 0.8 % instead of 0.7 %.',
    '',
    'The rod takes sections as plane and strains as small. Its sections warp as in elastic torsion and, as they yield, by three modes more',
    '(`tests/core/section-warping.test.ts` holds them against sections that warp freely). Without these a straight rectangular wire that is evenly bent beyond its yield moment,',
    'which agrees with the solid to 0.1 %, would bear 4 % more torque and 0.6 % more bending moment than the solid once it is twisted as well (titanium of',
    '0.019 in x 0.025 in, turned by as much as would be strains of 3 % and 2.5° per mm, with modulus and hardening tenfold and a tenth of the turns), and',
    '*torque and rotation* would miss its force by 3.9 % and its moment by 1.3 %: there the force is the difference of two moments, of 46 and 21 N mm at ends 17 mm apart,',
    'so that 1 % of the moment makes 2 % of the force.',
    '',
    'Wires that are straightened slide through their slot while they are engaged, so that',
    'nothing ever pulls along them; what yields on the way depends on it, least of all in loops, which',
    'are soft lengthwise. In the cycles with a trial activation the solid is let back to neutral without being taken',
    'out of its slots, which is the same as long as nothing yields backwards. Past yield the extrapolation is a rough guide: sections yield',
    'from one layer of bricks to the next.',
  ].join('\n')}\n`;
}

function percent({ force, moment }: Differences): string {
  return `${(100 * force).toFixed(2)}, ${(100 * moment).toFixed(2)}`;
}

function seconds({ milliseconds }: Level): string {
  return (milliseconds / 1000).toFixed(1);
}
