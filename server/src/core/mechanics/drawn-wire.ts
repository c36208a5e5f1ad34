/**
 * What drawing wire out of a span's straight arm does to its nodes at given end forces.
 *
 * Drawing dp out at the start leaves wire that began, where the span begins now, with the pose η dp ahead and the
 * moment r'×n dp less than u says; brought back to the origin it moves rigidly by -η dp and u turns along. Drawing
 * at the end only takes material off. Either way the arm's nodes, which keep their shares of it, move along the wire.
 */
import { COLUMNS, type Span } from './span';
import { strainRates } from './strain-rates';

/** Prepares `drawnShift` for wire drawn at the start of the span as it is now. */
export function prepareDrawing(span: Span): void {
  const { u } = span;
  strainRates(span, 0, base);
  const [ax, ay, az, tx, ty, tz] = [base[0], base[1], base[2], base[3], base[4], base[5]];
  turned[0] = ty * u[5] - tz * u[4] + ay * u[2] - az * u[1];
  turned[1] = tz * u[3] - tx * u[5] + az * u[0] - ax * u[2];
  turned[2] = tx * u[4] - ty * u[3] + ax * u[1] - ay * u[0];
  turned[3] = ay * u[5] - az * u[4];
  turned[4] = az * u[3] - ax * u[5];
  turned[5] = ax * u[4] - ay * u[3];
}

/** η: rotation and displacement of the wire per mm at the drawn start. */
const base = new Float64Array(6);
/** Change of u that goes with it per mm. */
const turned = new Float64Array(6);

/** Movement of a node (rotation, displacement) per mm drawn at the start or the end, at given u. */
export function drawnShift(span: Span, node: number, atStart: boolean, into: Float64Array): void {
  const { mesh, position, columns } = span;
  const pieces = mesh.pieces.length;
  if (atStart) {
    const x = position[3 * node];
    const y = position[3 * node + 1];
    const z = position[3 * node + 2];
    const arm = mesh.firstStep[1];
    const along = node < arm ? 1 - node / arm : 0;
    if (along > 0) strainRates(span, node, into);
    for (let k = 0; k < 6; k++) into[k] = (along > 0 ? along * into[k] : 0) - base[k];
    into[3] -= base[1] * z - base[2] * y;
    into[4] -= base[2] * x - base[0] * z;
    into[5] -= base[0] * y - base[1] * x;
    for (let c = 0; c < 6; c++) {
      const factor = turned[c];
      if (factor === 0) continue;
      const at = COLUMNS * node + 6 * c;
      for (let k = 0; k < 6; k++) into[k] += columns[at + k] * factor;
    }
    return;
  }
  const first = mesh.firstStep[pieces - 1];
  if (node <= first) {
    into.fill(0);
    return;
  }
  strainRates(span, node, into);
  const along = (node - first) / (mesh.steps - first);
  for (let k = 0; k < 6; k++) into[k] *= -along;
}
