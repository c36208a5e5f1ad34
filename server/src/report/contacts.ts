/** How the wire lies in its attachments and what loads pull: as data, where there is something to tell. */
import type { EngagedState, Wrench } from '#core/analysis/analysis';
import type { ApplianceDesign, Attachment } from '#core/design';
import { loadName, placeName, slidThrough } from '#model/contacts';
import type { ResolvedAppliance } from '#model/resolved';
import { loadLength } from '#model/results';
import { rounded } from './rounded';
import type { ReportAppliance, ReportState } from './schema';

export function contactOf({
  lengthwise,
  play,
  friction,
}: Attachment): Pick<ReportAppliance['attachments'][number], 'lengthwise' | 'withPlay' | 'friction'> {
  return {
    ...(lengthwise !== 'held' && { lengthwise }),
    ...(play && { withPlay: true }),
    ...(friction > 0 && { friction: rounded(friction) }),
  };
}

export function seatOf(
  state: EngagedState,
  design: ApplianceDesign,
  attachment: number,
): Pick<ReportState['loads'][number], 'slid' | 'inSlot' | 'friction'> {
  const slid = slidThrough(state, design, attachment);
  const seated = state.seated[attachment];
  const bounds = state.friction?.[attachment];
  return {
    ...(slid !== undefined && { slid: rounded(slid) }),
    ...(seated && {
      inSlot: {
        torque: degrees(seated.turn[0]),
        rotation: degrees(seated.turn[1]),
        tip: degrees(seated.turn[2]),
        touching: seated.touching,
      },
    }),
    ...(bounds && { friction: { least: components(bounds.least), most: components(bounds.most) } }),
  };
}

export function pullsOf(
  state: EngagedState,
  design: ApplianceDesign,
  appliance: Pick<ResolvedAppliance, 'marks'>,
): Pick<ReportState, 'pulls'> {
  if (state.loads.length === 0) return {};
  return {
    pulls: state.loads.map((load, index) => ({
      name: loadName(design.loads[index], design, appliance),
      kind: design.loads[index].kind,
      from: placeName(design.loads[index].from, design, appliance),
      to: placeName(design.loads[index].to, design, appliance),
      force: rounded(load.force),
      length: rounded(loadLength(load)),
    })),
  };
}

function components({ force, moment }: Wrench) {
  const triple = ([mesial, gingival, buccal]: Wrench['force']) => ({
    mesial: rounded(mesial),
    gingival: rounded(gingival),
    buccal: rounded(buccal),
  });
  return { force: triple(force), moment: triple(moment) };
}

function degrees(angle: number): number {
  return rounded((angle * 180) / Math.PI);
}
