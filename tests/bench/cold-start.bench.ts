/** First curves in a fresh process: what a person waits for right after the start, without any warming up. */
import { analyseAppliance } from '#core/analysis/analyse';
import gabled from './appliances/vertical-loop-gabled.spring';
import inSpace from './appliances/vertical-loop-in-space.spring';
import { designOf } from './design-of';

for (const [name, text] of [
  ['planar, 7 stages', gabled],
  ['3D, 13 stages', inSpace],
]) {
  const begun = performance.now();
  const design = designOf(text);
  const read = performance.now();
  const times: number[] = [];
  for (let k = 0; k < 3; k++) {
    const before = performance.now();
    analyseAppliance(design);
    times.push(performance.now() - before);
  }
  console.log(
    `${name.padEnd(18)} text to design ${(read - begun).toFixed(1)} ms, then curves ${times.map((t) => t.toFixed(1)).join(', ')} ms`,
  );
}
console.log('Goal: first curve 30 ms after the server started, which warms up before it is asked.');
