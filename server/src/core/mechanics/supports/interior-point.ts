/**
 * One-sided contact by a primal-dual interior point method, along with the wire's equilibrium (Nocedal and Wright, Numerical
 * Optimization, 2nd ed., chapter 19, from memory). Either side of a gap has a slack s and a force f, both positive: s is the
 * room left to the wall, into which f presses by f/k, and s f = μ. Newton's method takes both along with the wire, in steps that
 * leave them positive, while μ falls until nothing of it is left in the result.
 */

/** How far the contacts of one wire have been found. */
export interface Contacts {
  /** μ that the present Newton step aims at, N mm. */
  aim: number;
  /** Counts up where they are found anew. */
  starts: number;
  /** What a step last took to hold the wire where it is just so much that it were stable, N mm and N/mm. */
  holding: number;
}

export function createContacts(): Contacts {
  return { aim: FIRST, starts: 0, holding: 0 };
}

/** μ at first, which keeps the wire in the middle of its gaps much as a clamp does, and in the end, N mm. */
const FIRST = 1;
const LAST = 2.5e-9;

/** Contacts are found anew. */
export function beginContacts(contacts: Contacts): void {
  contacts.starts++;
  contacts.aim = FIRST;
  contacts.holding = 0;
}

/** Whether contacts press about as hard by now as they will. */
export function nearlyFound({ aim }: Contacts): boolean {
  return aim < NEARLY;
}

/** N mm */
const NEARLY = 1e-5;

/** Room of the wire to either side. */
export interface Gap {
  readonly contacts: Contacts;
  /** Slack, mm (or rad), and force, N (or N mm), per side. */
  readonly slack: Float64Array;
  readonly force: Float64Array;
  /** What the slack misses of where the wire stands. */
  readonly missed: Float64Array;
  /** Of slack and force by the Newton step looked at. */
  readonly change: Float64Array;
  /** How far the wire leaves the middle of the gap, by the movement (rotation, displacement) of its node. */
  readonly row: Float64Array;
  /** Of the walls, N/mm (or N mm). */
  readonly stiffness: number;
  /** mm or rad; 0 where the wire is held both ways. */
  readonly room: number;
  /** Share by which the μ of its sides differ at first: a wire that could as well lean to one side as to the other leans to one. */
  readonly lean: number;
  starts: number;
}

/** `place`: a number of the gap along the wire. */
export function createGap(contacts: Contacts, room: number, stiffness: number, place: number): Gap {
  return {
    contacts,
    slack: new Float64Array(2),
    force: new Float64Array(2),
    missed: new Float64Array(2),
    change: new Float64Array(4),
    row: new Float64Array(6),
    stiffness,
    room,
    lean: LEAN * Math.sin(place + 1),
    starts: -1,
  };
}

const LEAN = 0.2;
/** N mm, below which it fades: wire that floats freely is to do so in the middle. */
const LEANING = 1e-4;

/** μ aimed at on a side. */
function aimAt({ contacts: { aim }, lean }: Gap, side: number): number {
  return aim * (1 + (side === 0 ? -lean : lean) * Math.min(1, aim / LEANING));
}

/** What `resistGap` found: force (or moment) back and its rate. */
export const resisted = { force: 0, stiffness: 0 };

/** The wire stands `away` from the middle of the gap. */
export function resistGap(gap: Gap, away: number): void {
  const { contacts, slack, force, missed, stiffness: k, room } = gap;
  if (room === 0) {
    resisted.force = k * away;
    resisted.stiffness = k;
    return;
  }
  resisted.force = resisted.stiffness = 0;
  const anew = gap.starts !== contacts.starts;
  gap.starts = contacts.starts;
  for (let side = 0; side < 2; side++) {
    const past = (side === 0 ? away : -away) - room;
    const aim = aimAt(gap, side);
    if (anew) {
      slack[side] = room;
      force[side] = aim / room;
    } else if (slack[side] * force[side] < LAGGING * aim) {
      // By a step that had to stop at the wall.
      if (slack[side] > force[side]) force[side] = aim / slack[side];
      else slack[side] = aim / force[side];
    }
    const s = slack[side];
    const f = force[side];
    const wide = s + f / k;
    missed[side] = f / k - past - s;
    resisted.force += (side === 0 ? 1 : -1) * (f + (aim - s * f - f * missed[side]) / wide);
    resisted.stiffness += f / wide;
  }
}

/** Share of μ below which a side is put back to it. */
const LAGGING = 0.01;

/** How much of a Newton step, in which the gap's node moves as given, leaves slacks and forces positive; more than 1: all of it. */
export function shareWithin(gap: Gap, movement: Float64Array): number {
  const { slack, force, missed, change, row, stiffness: k, room } = gap;
  if (room === 0) return Number.POSITIVE_INFINITY;
  let away = 0;
  for (let c = 0; c < 6; c++) away += row[c] * movement[c];
  let share = Number.POSITIVE_INFINITY;
  for (let side = 0; side < 2; side++) {
    const past = side === 0 ? away : -away;
    const s = slack[side];
    const f = force[side];
    const df = (aimAt(gap, side) - s * f - f * (missed[side] - past)) / (s + f / k);
    const ds = df / k - past + missed[side];
    change[side] = ds;
    change[2 + side] = df;
    if (ds < 0) share = Math.min(share, -s / ds);
    if (df < 0) share = Math.min(share, -f / df);
  }
  return share;
}

/** Share of the way to where a slack or a force vanishes that a step takes at most. */
export const TOWARDS_WALL = 0.995;

/** What a step has made of the contacts: sum and largest of the products s f, N mm, and the largest that a slack misses. */
const made = { sides: 0, sum: 0, most: 0, missed: 0 };

export function beginShares(): void {
  made.sides = made.sum = made.most = made.missed = 0;
}

/** Takes a share of the Newton step last looked at. */
export function takeShare({ slack, force, change, missed, room }: Gap, share: number): void {
  if (room === 0) return;
  for (let side = 0; side < 2; side++) {
    slack[side] += share * change[side];
    force[side] += share * change[2 + side];
    const product = slack[side] * force[side];
    made.sides++;
    made.sum += product;
    made.most = Math.max(made.most, product);
    made.missed = Math.max(made.missed, Math.abs((1 - share) * missed[side]));
  }
}

/** Chooses the μ that the next step aims at; true where contacts need no further one. */
export function settleContacts(contacts: Contacts, share: number): boolean {
  const { sides, sum, most, missed } = made;
  if (sides === 0) return true;
  const mean = sum / sides;
  const settled = share === 1 && contacts.aim === LAST && most < SETTLED && missed < REACHED;
  const next = share > 0.7 ? Math.min(0.1 * mean, mean ** 1.5) : share > 0.2 ? 0.4 * mean : mean;
  contacts.aim = Math.max(LAST, next);
  return settled;
}

/** N mm, and mm or rad: a force of 3e-4 N at 3e-4 mm from the wall counts as settled. */
const SETTLED = 1e-7;
const REACHED = 1e-6;
