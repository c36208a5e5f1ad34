/** The pull of an elastic, a coil spring or a ligature on the wire's mark, along the line to where its other end is. */
import type { Load } from '../../design';
import { pullAtNode, type SupportLaw } from './supports';

/** Pull, N, of a load stretched to a length, mm; negative where a coil spring pushes. Its rate, N/mm, goes into `rate`. */
export function pullOf({ kind, law }: Load, length: number): { readonly force: number; readonly rate: number } {
  if (law.kind === 'constant') return { force: law.force, rate: 0 };
  const force = law.rate * (length - law.rest);
  return kind === 'coil' || force > 0 ? { force, rate: law.rate } : { force: 0, rate: 0 };
}

/** Where the other end of a load is in the span's frame. */
export interface LoadEnd {
  readonly place: (share: number, motion: number) => void;
  /** 3 numbers, mm: on the wire it moves with every step. */
  readonly read: (into: Float64Array) => void;
}

/** The wire is pulled with the share of the load that it is engaged to. */
export function loadPull(support: number, load: Load, other: LoadEnd): SupportLaw {
  const far = new Float64Array(3);
  let present = 0;
  return {
    support,
    gaps: [],
    place: (share, motion) => {
      present = share;
      other.place(share, motion);
    },
    hold: (span, k) => {
      other.read(far);
      const { nodes, stiffness } = span.supports!;
      const at = 3 * nodes[k];
      const [x, y, z] = [span.position[at], span.position[at + 1], span.position[at + 2]];
      let [dx, dy, dz] = [far[0] - x, far[1] - y, far[2] - z];
      const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
      if (!(length > 1e-9)) return false;
      dx /= length;
      dy /= length;
      dz /= length;
      const pull = pullOf(load, length);
      const force = present * pull.force;
      const [fx, fy, fz] = [force * dx, force * dy, force * dz];
      pullAtNode(span, k, fx, fy, fz);
      // The force falls by (T/L (1 - e e) + k e e) δr; its moment about the start by δr × force besides.
      const across = force / length;
      const along = present * pull.rate - across;
      direction[0] = dx;
      direction[1] = dy;
      direction[2] = dz;
      for (let r = 0; r < 3; r++) {
        for (let c = 0; c < 3; c++) block[3 * r + c] = (r === c ? across : 0) + along * direction[r] * direction[c];
      }
      const s = 36 * k;
      for (let c = 0; c < 3; c++) {
        const [a, b, d] = [block[c], block[3 + c], block[6 + c]];
        stiffness[s + 18 + 3 + c] += a;
        stiffness[s + 24 + 3 + c] += b;
        stiffness[s + 30 + 3 + c] += d;
        stiffness[s + 3 + c] += y * d - z * b;
        stiffness[s + 6 + 3 + c] += z * a - x * d;
        stiffness[s + 12 + 3 + c] += x * b - y * a;
      }
      // -(δr × f) by δr.
      stiffness[s + 4] -= fz;
      stiffness[s + 5] += fy;
      stiffness[s + 9] += fz;
      stiffness[s + 11] -= fx;
      stiffness[s + 15] -= fy;
      stiffness[s + 16] += fx;
      return false;
    },
  };
}

const direction = new Float64Array(3);
const block = new Float64Array(9);
