/** Strains of the deformed wire at a node. */
import { forceAt, type Span } from './span';

/** ω (elastic part) and r' at a node, from its own pose and the moment and force there. */
export function strainRates(span: Span, node: number, into: Float64Array): void {
  const { u, rotation, position } = span;
  const compliance = span.compliances[Math.min(node, span.mesh.steps - 1)];
  const force = forceAt(span, node);
  const nx = u[force + 3];
  const ny = u[force + 4];
  const nz = u[force + 5];
  const w = rotation[4 * node];
  const x = rotation[4 * node + 1];
  const y = rotation[4 * node + 2];
  const z = rotation[4 * node + 3];
  const rx = position[3 * node];
  const ry = position[3 * node + 1];
  const rz = position[3 * node + 2];
  const mx = u[force] - ry * nz + rz * ny;
  const my = u[force + 1] - rz * nx + rx * nz;
  const mz = u[force + 2] - rx * ny + ry * nx;
  const d1x = 1 - 2 * (y * y + z * z);
  const d1y = 2 * (x * y + w * z);
  const d1z = 2 * (x * z - w * y);
  const d3x = 2 * (x * z + w * y);
  const d3y = 2 * (y * z - w * x);
  const d3z = 1 - 2 * (x * x + y * y);
  const { stretch, shear, couple, curvatureUp, curvatureSide } = compliance;
  const torque = d1x * mx + d1y * my + d1z * mz;
  const axial = d1x * nx + d1y * ny + d1z * nz;
  // The bend's curvature in space.
  const kx = curvatureSide * d3x + curvatureUp * (d3y * d1z - d3z * d1y);
  const ky = curvatureSide * d3y + curvatureUp * (d3z * d1x - d3x * d1z);
  const kz = curvatureSide * d3z + curvatureUp * (d3x * d1y - d3y * d1x);
  const m1 = (compliance.twist - compliance.up) * torque - shear * (kx * nx + ky * ny + kz * nz);
  const m3 = (compliance.side - compliance.up) * (d3x * mx + d3y * my + d3z * mz);
  const pull = couple * axial;
  const g = 1 + (stretch - shear) * axial + couple * (kx * mx + ky * my + kz * mz);
  const turned = shear * torque;
  into[0] = compliance.up * mx + m1 * d1x + m3 * d3x + pull * kx;
  into[1] = compliance.up * my + m1 * d1y + m3 * d3y + pull * ky;
  into[2] = compliance.up * mz + m1 * d1z + m3 * d3z + pull * kz;
  into[3] = d1x * g + shear * nx - turned * kx;
  into[4] = d1y * g + shear * ny - turned * ky;
  into[5] = d1z * g + shear * nz - turned * kz;
}
