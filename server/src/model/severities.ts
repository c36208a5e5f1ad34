/** How gravely findings are taken, as the user sets it. */
import { DIAGNOSTICS } from './diagnostics/catalogue';
import type { Findings, Problem, Silenced } from './problem';

export const SEVERITIES = ['error', 'warning', 'information', 'hint', 'off'] as const;

/** Reason given for a finding that no comment silences. */
export const SWITCHED_OFF = 'switched off by the severity setting';

export type SeveritySetting = (typeof SEVERITIES)[number];

/** By id of the finding; what is not named keeps its own severity. */
export type Severities = Readonly<Record<string, SeveritySetting>>;

/** Ids whose severity can be set: all but the errors that stop the computation. */
export function adjustable(code: string): boolean {
  const entry = DIAGNOSTICS.get(code);
  return entry !== undefined && (entry.severity !== 'error' || entry.judgement === true);
}

/** Errors after which there is nothing to compute, or nothing that means what the file says. */
export function stopsComputing({ code, severity }: Problem): boolean {
  return severity === 'error' && !adjustable(code);
}

/** Findings as the settings want them; those that are switched off are counted as silenced. */
export function applySeverities({ problems, silenced }: Findings, severities: Severities): Findings {
  if (Object.keys(severities).length === 0) return { problems, silenced };
  const off: Silenced[] = [];
  const kept = problems.flatMap((problem): Problem[] => {
    const wanted = Object.hasOwn(severities, problem.code) ? severities[problem.code] : undefined;
    if (wanted === undefined || wanted === problem.severity) return [problem];
    if (stopsComputing(problem)) {
      return [
        withHint(problem, `Its severity cannot be set to "${wanted}": the wire is not computed before it is mended.`),
      ];
    }
    if (wanted !== 'off') return [{ ...problem, severity: wanted }];
    off.push({ problem, reason: SWITCHED_OFF });
    return [];
  });
  return { problems: kept, silenced: [...silenced, ...off] };
}

export function withHint(problem: Problem, more: string): Problem {
  return { ...problem, hint: problem.hint === undefined ? more : `${problem.hint} ${more}` };
}
