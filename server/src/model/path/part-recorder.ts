/** Findings inside a part, brought to the place where the part is used. */
import { type Recorder, SILENT } from '../names/scope';
import type { Definition } from '../resolved';
import type { Surroundings } from './layout';

/**
 * A part's own file reports what is wrong with the part itself; what comes up only with the values of a
 * call is reported at the outermost call, with the part's line as a related place.
 */
export function recorderInPart(part: Definition, { outermost, pathSpan }: Surroundings): Recorder {
  return {
    ...SILENT,
    problem(problem) {
      if (!pathSpan) return;
      if (outermost.kind === 'part') {
        // Every part is looked at by itself; only a circle of parts shows nowhere but here.
        if (problem.code === 'part-recursion') outermost.recorder.problem({ ...problem, span: pathSpan });
        return;
      }
      if (outermost.reported(part.home.uri, problem)) return;
      outermost.recorder.problem({
        ...problem,
        span: pathSpan,
        message: `In ${part.name}: ${problem.message}`,
        fixes: undefined,
        related: [{ uri: part.home.uri, span: problem.span, message: `This line of ${part.name}` }],
      });
    },
  };
}
