/** A design's inelastic wire without the analysis around it, for the tests of the kernel. */
import type { ApplianceDesign } from '#core/design';
import { centreline } from '#core/geometry/centreline';
import { layeredSection } from '#core/material/fibre-section';
import { fibreLaw, type UniaxialLaw } from '#core/material/uniaxial-law';
import { wireFibres } from '#core/material/wire-fibres';
import { placeSpans } from '#core/mechanics/held-wire';
import { createInelasticPath, type InelasticPath } from '#core/mechanics/inelastic/inelastic-path';
import { createInelasticSpan } from '#core/mechanics/inelastic/inelastic-span';
import { defaultMesh, type MeshRule } from '#core/mechanics/mesh';
import { freshControls } from '#core/mechanics/wire-controls';

export interface Fineness {
  readonly mesh: MeshRule;
  readonly layers: number;
  readonly compliance: 'full' | 'bending-only';
  readonly spatial: boolean;
}

export const fine: Fineness = {
  mesh: { turn: Math.PI / 8, length: 0.5, elastic: 1 },
  layers: 16,
  compliance: 'full',
  spatial: false,
};

export function inelasticWire(design: ApplianceDesign, law: UniaxialLaw, given: Partial<Fineness> = {}): InelasticPath {
  const { mesh, layers, compliance, spatial } = { ...fine, ...given };
  const { section, alloy } = design;
  const { spans, controls } = placeSpans(
    design,
    centreline(design.elements, design.start, 0),
    compliance,
    defaultMesh,
    [],
  );
  return createInelasticPath(
    spans.map(({ held }) => {
      const planar = held.span.planar && !spatial;
      const layered = layeredSection(section, fibreLaw(law, alloy.modulus), layers);
      const fibres = planar ? () => layered : wireFibres({ section, alloy: { ...alloy, law } }, false);
      return createInelasticSpan({ ...held, span: { ...held.span, planar } }, fibres, mesh, 2);
    }),
    freshControls(controls),
    { solves: 0, iterations: 0 },
  );
}
