/** An evaluated file made up for the report: two appliances, one of them without a design. */

import type { EvaluatedAppliance, Verdict } from '#model/resolved';
import { USUAL_SITE } from '#model/site';
import type { ReportInput } from '#report/report';
import { closingSpring } from '../drawing/synthetic';

export const text = `/// Closes a space.
appliance closing_section {
  require at activation 1.5 mm {
    canine.force.distal in 100 gf .. 150 gf
    wire.stress <= 0.9 * wire.yield
  }
}
appliance unfinished {
}
`;

const span = (part: string) => ({ start: text.indexOf(part), end: text.indexOf(part) + part.length });

export function evaluatedFile(): Extract<ReportInput, { text: string }> {
  const spring = closingSpring();
  const closing = {
    ...spring,
    appliance: {
      name: 'closing_section',
      auxiliaries: [],
      node: { span: span('appliance closing_section'), members: [] },
      site: USUAL_SITE,
      teeth: new Map(),
      groups: [],
      steps: [],
      design: spring.design,
    },
    workingActivation: 1.5,
    further: [],
    verdicts: [
      verdict('canine.force.distal in 100 gf .. 150 gf', 'missed', '62.2 gf', '100 gf .. 150 gf'),
      verdict('wire.stress <= 0.9 * wire.yield', 'met', '800 MPa', '<= 900 MPa'),
    ],
    problems: [],
  };
  const unfinished = {
    appliance: {
      name: 'unfinished',
      auxiliaries: [],
      node: { span: span('appliance unfinished') },
      site: USUAL_SITE,
      steps: [],
      design: undefined,
    },
    analysis: undefined,
    workingActivation: undefined,
    further: [],
    verdicts: [],
    problems: [],
  };
  return {
    path: 'springs/closing.spring',
    text,
    silenced: [],
    problems: [
      {
        code: 'missing-wire',
        severity: 'error',
        span: span('unfinished'),
        message: 'This appliance has no wire.',
        hint: 'Write wire …',
      },
      {
        code: 'requirement-missed',
        severity: 'error',
        span: span('canine.force.distal'),
        message: 'Too little force.',
      },
    ],
    // A report reads name, place, design, analysis and verdicts; the rest of these records needs a parsed file.
    appliances: [closing, unfinished] as unknown as EvaluatedAppliance[],
  };
}

function verdict(condition: string, outcome: Verdict['outcome'], actualText: string, expectedText: string): Verdict {
  return {
    requirement: { node: {} as Verdict['requirement']['node'], stage: 'at', activation: 1.5 },
    condition: { span: span(condition), test: undefined, because: undefined },
    severity: 'error',
    activation: 1.5,
    outcome,
    text: condition,
    actual: undefined,
    actualText,
    expectedText,
    marginText: undefined,
    reason: undefined,
    because: undefined,
  };
}
