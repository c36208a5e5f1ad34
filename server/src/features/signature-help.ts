/** The parameters of a part, or of a function, while its arguments are being written. */
import type { ParameterInformation, Position, SignatureHelp, SignatureInformation } from 'vscode-languageserver-types';
import { dimensionName } from '#core/units/dimension';
import { formatQuantity } from '#core/units/format';
import type { Definition } from '#model/resolved';
import type { Snapshot } from '#workspace/snapshot';
import { completionContext, type Parenthesis } from './completion/context';
import { callSignature, parameterText } from './documentation/definition';
import { functionDocumentation } from './documentation/words';
import { offsetAt } from './positions';
import type { Settings } from './settings';

export function provideSignatureHelp(snapshot: Snapshot, position: Position, settings: Settings): SignatureHelp | null {
  const context = completionContext(snapshot.text, offsetAt(snapshot, position));
  const call = context?.parentheses.findLast(({ kind }) => kind === 'arguments' || kind === 'function');
  if (context === undefined || call?.name === undefined) return null;
  if (call.kind === 'function') return functionHelp(call.name, call);
  const part = snapshot.file.scope.get(call.name);
  return part?.node.kind === 'part' ? partHelp(part, call, context.word, settings) : null;
}

function partHelp(part: Definition, call: Parenthesis, word: string, settings: Settings): SignatureHelp | null {
  const { node, home, doc } = part;
  if (node.kind !== 'part') return null;
  const label = callSignature(node, home.text);
  const active = activeParameter(part, call, word);
  let from = label.indexOf('(') + 1;
  const parameters = node.parameters.map((parameter): ParameterInformation => {
    const text = parameterText(parameter, home.text);
    const start = label.indexOf(text, from);
    from = start + text.length;
    const definition = part.parameters.find((candidate) => candidate.node === parameter);
    const documentation = definition && parameterDocumentation(definition, settings);
    return { label: [start, from], documentation: markdown(documentation) };
  });
  return help({ label, documentation: markdown(doc), parameters }, active);
}

/** The parameter whose value is being written; between arguments the one begun, or the first not given. */
function activeParameter({ parameters }: Definition, { argument, given }: Parenthesis, word: string): number {
  const free = ({ name }: Definition): boolean => !given.includes(name);
  if (argument !== undefined) return parameters.findIndex(({ name }) => name === argument);
  const begun = word === '' ? -1 : parameters.findIndex((one) => free(one) && one.name.startsWith(word));
  return begun >= 0 ? begun : parameters.findIndex(free);
}

function parameterDocumentation({ doc, dimension, value, node, home }: Definition, { units }: Settings): string {
  const range =
    node.kind === 'parameter' && node.range !== undefined
      ? `, allowed ${home.text.slice(node.range.span.start, node.range.span.end)}`
      : '';
  const usual = value === undefined ? '' : `, ${formatQuantity(value, units)} unless given`;
  const kind = dimension === undefined ? '' : `${dimensionName(dimension)}${usual}${range}`;
  return [doc, kind].filter((text) => text !== undefined && text !== '').join('\n\n');
}

function functionHelp(name: string, { separators }: Parenthesis): SignatureHelp | null {
  const documentation = functionDocumentation[name];
  if (documentation === undefined) return null;
  const label = documentation.form;
  const parameters = [...label.slice(label.indexOf('(')).matchAll(/[^\s(),]+/g)].map(
    ({ index, 0: word }): ParameterInformation => {
      const start = label.indexOf('(') + index;
      return { label: [start, start + word.length] };
    },
  );
  const active = Math.min(separators, parameters.length - 1);
  return help({ label, documentation: markdown(documentation.meaning), parameters }, active);
}

/** An index outside of the parameters marks none of them. */
function help(signature: SignatureInformation, active: number): SignatureHelp {
  const activeParameter = active >= 0 ? active : (signature.parameters?.length ?? 0);
  return { signatures: [{ ...signature, activeParameter }], activeSignature: 0, activeParameter };
}

function markdown(value: string | undefined): SignatureInformation['documentation'] {
  return value === undefined || value === '' ? undefined : { kind: 'markdown', value };
}
