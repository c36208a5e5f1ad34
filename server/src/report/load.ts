import type { Wrench } from '#core/analysis/analysis';
import type { Vec3 } from '#core/math/vector';
import { momentToForce } from '#model/moment-to-force';
import { rounded } from './rounded';
import type { ReportState } from './schema';

/** The load of one attachment under canonical and trade names; the signs are those of `senses` in `effects.ts`. */
export function loadOf(attachment: string, { force, moment }: Wrench): ReportState['loads'][number] {
  const [mesial, gingival, buccal] = force.map(rounded);
  const [aboutMesial, aboutGingival, aboutBuccal] = moment.map(rounded);
  const opposite = (value: number) => -value || 0;
  const ratio = momentToForce({ force, moment });
  return {
    attachment,
    force: {
      mesial,
      distal: opposite(mesial),
      gingival,
      occlusal: opposite(gingival),
      buccal,
      lingual: opposite(buccal),
      total: length(force),
    },
    moment: {
      mesial: aboutMesial,
      gingival: aboutGingival,
      buccal: aboutBuccal,
      crown_mesial: aboutBuccal,
      crown_distal: opposite(aboutBuccal),
      mesial_in: aboutGingival,
      mesial_out: opposite(aboutGingival),
      crown_buccal: opposite(aboutMesial),
      crown_lingual: aboutMesial,
      total: length(moment),
    },
    momentToForce: ratio === undefined ? null : rounded(ratio),
  };
}

function length(vector: Vec3): number {
  return rounded(Math.hypot(...vector));
}
