/** How the appliance is used over time: from visit to visit, until a space is closed. */
import type { Activation, Attachment, ToothGroup } from '#core/design';
import { LENGTH, SPEED, TIME } from '#core/units/dimension';
import { UNITS } from '#core/units/unit';
import type { Expression, Name, VisitsClause, VisitsMember } from '#grammar/tree';
import { duplicateMember } from '../diagnostics/duplicate-member';
import { visitsIncomplete } from '../diagnostics/visits-incomplete';
import { evaluateExpression } from '../expression/evaluate-expression';
import { evaluateNumber } from '../expression/expectation';
import { findOfKind } from '../names/lookup';
import { DEFAULTS } from '../provenance';
import { checkRange } from '../range';
import type { ResolvedVisits } from '../resolved';
import { type ApplianceContext, headOf } from './context';

/** Undefined where something that it needs is missing or wrong. */
export function resolveVisits(
  node: VisitsMember,
  context: ApplianceContext,
  placed: readonly Attachment[],
  groups: readonly ToothGroup[],
  activation: Activation | undefined,
): ResolvedVisits | undefined {
  const { recorder, shape, results, home } = context;
  const head = headOf(node.span, home.text);
  const clause = <K extends VisitsClause['kind']>(kind: K) => {
    const [first, second] = node.clauses.filter((one) => one.kind === kind);
    if (second) recorder.problem(duplicateMember.at(second.span, `"${kind}"`, { uri: home.uri, span: first.span }));
    return first as Extract<VisitsClause, { kind: K }> | undefined;
  };
  let whole = true;
  const wrong = (message: string, hint: string, span = head): undefined => {
    whole = false;
    recorder.problem(visitsIncomplete.at(span, message, hint));
    return undefined;
  };
  const positive = (
    written: { readonly value: Expression | undefined } | undefined,
    dimension: typeof LENGTH,
    what: string,
  ): number | undefined => {
    const value = written && evaluateNumber(written.value, dimension, what, shape);
    if (written && value === undefined) whole = false;
    return value !== undefined && !(value > 0)
      ? wrong(`${what} has to be more than 0.`, 'Write a larger value.', written?.value?.span)
      : value;
  };
  const attachment = (name: Name | undefined): number => {
    const definition = name && findOfKind('attachment', name, shape);
    return definition ? placed.findIndex((one) => one.name === definition.name) : -1;
  };
  const [every, close, activate, reactivate, rate, within] = [
    clause('every'),
    clause('close'),
    clause('activate'),
    clause('reactivate'),
    clause('rate'),
    clause('within'),
  ];
  const interval = positive(every, TIME, 'The time from visit to visit');
  const longest = positive(within, TIME, 'The time within which it ends') ?? LONGEST;
  const amount = positive(close, LENGTH, 'The space to close');
  const between = close ? ([attachment(close.between[0]), attachment(close.between[1])] as const) : undefined;
  const activated = positive(activate, LENGTH, 'The activation at visits');
  const range = rate?.range ? checkRange(rate.range, SPEED, shape) : undefined;
  const usual = rate ? positive(rate, SPEED, 'The rate of movement') : DEFAULTS.rate.value.value;
  const condition = reactivate?.when && evaluateExpression(reactivate.when, results);
  if (reactivate?.when && condition && condition.kind !== 'truth')
    wrong(
      'When to reactivate is said by a condition.',
      'Compare a result, such as "canine.force.distal < 80 gf".',
      reactivate.when.span,
    );
  if (!every) wrong('It is not said how often the appliance is looked after.', 'Write "every 6 weeks" after "visits".');
  if (activate && activation?.motion.kind !== 'pull')
    wrong(
      'At visits the wire is drawn through a tube, but this appliance has no such activation.',
      'Add a line such as "activation pull through molar 0 mm .. 3 mm".',
      activate.span,
    );
  else if (!activate && activation?.motion.kind === 'pull')
    wrong('It is not said how far the wire is activated.', 'Add a clause such as "activate 2 mm".');
  if (reactivate && !activate)
    wrong('There is nothing to activate again.', 'Say how far with "activate 2 mm".', reactivate.span);
  if (between && amount !== undefined && (between.includes(-1) || between[0] === between[1])) {
    whole = false;
    if (!between.includes(-1))
      wrong('A space lies between two attachments.', 'Name another one.', close?.between[1]?.span);
  }
  const unknown = groups.find(({ rootArea, rootLength }) => rootArea === undefined || rootLength === undefined);
  if (groups.length === 0)
    wrong(
      'No group of teeth is declared, so that nothing moves.',
      'Add a line such as "group anchor of molar, on teeth 15 .. 17".',
    );
  else if (unknown)
    wrong(
      `How ${unknown.name} moves is not known, since its roots are not.`,
      'Say which teeth it is, with "on teeth …" and `use "teeth"`.',
    );
  if (!whole || interval === undefined || usual === undefined) return undefined;
  if (Math.min(longest, LONGEST) / interval > MOST_VISITS)
    return wrong(
      `There would be more than ${MOST_VISITS} visits.`,
      'Write a longer time from visit to visit.',
      every?.span,
    );
  return {
    node,
    rule: {
      interval,
      longest: Math.min(longest, LONGEST),
      rate: usual,
      ...(amount !== undefined && between && { close: { amount, between } }),
      ...(activated !== undefined && { activate: activated }),
    },
    when: reactivate?.when,
    rates: range
      ? { low: range.low.value, high: range.high.value }
      : rate
        ? undefined
        : { low: DEFAULTS.rate.range.low.value, high: DEFAULTS.rate.range.high.value },
  };
}

/** s: three years. */
const LONGEST = 36 * (UNITS.get('months')?.factor ?? 0);
const MOST_VISITS = 100;
