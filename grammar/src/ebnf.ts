import type { ISerializedGast } from 'chevrotain';
import { FileParser } from './rules/file';
import { Name, Text, vocabulary } from './tokens';

/**
 * The grammar in EBNF (ISO/IEC 14977: `[ ]` may be left out, `{ }` may repeat), read off the parser's own rules in the
 * order in which a reader meets them from `file` on. Words in capitals are tokens.
 */
export function ebnf(): string {
  const rules = new Map(
    new FileParser().getSerializedGastProductions().map((rule) => [(rule as NamedNode).name, rule as NamedNode]),
  );
  const order: string[] = [];
  const visit = (name: string) => {
    if (order.includes(name)) return;
    order.push(name);
    for (const used of usedRules(rules.get(name)!)) visit(used);
  };
  visit('file');
  return order.map((name) => `${written(name)} = ${definition(rules.get(name)!)} ;`).join('\n');
}

interface NamedNode extends ISerializedGast {
  name: string;
  label?: string;
  separator?: NamedNode;
  definition: NamedNode[];
}

function usedRules(node: NamedNode): string[] {
  if (node.type === 'NonTerminal') return [node.name];
  return (node.definition ?? []).flatMap(usedRules);
}

/** A rule's right side; alternatives need no parentheses there. */
function definition({ definition }: NamedNode): string {
  const whole = definition.length === 1 && definition[0].type === 'Alternation';
  return whole ? alternatives(definition[0]) : sequence(definition);
}

function alternatives({ definition }: NamedNode): string {
  return definition.map((alternative) => sequence(alternative.definition)).join(' | ');
}

function sequence(definition: readonly NamedNode[]): string {
  return definition.map(element).join(', ');
}

function element(node: NamedNode): string {
  switch (node.type) {
    case 'NonTerminal':
      return written(node.name);
    case 'Terminal':
      return terminal(node);
    case 'Option':
      return `[ ${sequence(node.definition)} ]`;
    case 'Repetition':
      return `{ ${sequence(node.definition)} }`;
    case 'RepetitionWithSeparator': {
      const one = sequence(node.definition);
      return `[ ${one}, { ${element(node.separator!)}, ${one} } ]`;
    }
    case 'Alternation':
      return `( ${alternatives(node)} )`;
    default:
      throw new Error(`The grammar uses ${node.type}, which the reference has no notation for.`);
  }
}

/** A token's label, or the tokens of its category. */
function terminal(node: NamedNode): string {
  const members = vocabulary.filter(({ CATEGORIES }) => CATEGORIES?.some(({ name }) => name === node.name));
  if (members.length === 0 || node.name === Name.name || node.name === Text.name) return node.label ?? node.name;
  return `( ${members.map(({ LABEL }) => LABEL).join(' | ')} )`;
}

/** `partCall` as `part call`: names of more than one word, as the standard has them. */
function written(name: string): string {
  return name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
