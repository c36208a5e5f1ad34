/** The appliances of one text with their reports, to be compared with those of another. */
import type { EvaluatedAppliance } from '#model/resolved';
import type { Revision } from './comparison';
import { buildAnalyzeReport } from './report';

/** `path` as the report names the file. */
export function revisionsIn(
  path: string,
  text: string,
  appliances: readonly EvaluatedAppliance[],
  version: string,
): readonly Revision[] {
  const input = { path, text, problems: [], silenced: [], appliances };
  const { files } = buildAnalyzeReport([input], { version, model: 'full' });
  return files[0].appliances.map((report, index) => ({ report, evaluated: appliances[index] }));
}
