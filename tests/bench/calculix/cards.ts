/** Lines of a CalculiX input deck. */

export function number(value: number): string {
  return value.toExponential(12);
}

export function nodeSet(name: string, nodes: readonly number[]): string[] {
  return [`*NSET, NSET=${name}`, ...chunks(nodes, 8).map((row) => `${row.join(',')},`)];
}

export function amplitude(name: string, rows: readonly (readonly [time: number, value: number])[]): string[] {
  return [
    `*AMPLITUDE, NAME=${name}, TIME=TOTAL TIME`,
    ...chunks(rows, 4).map((row) => `${row.flat().map(number).join(',')},`),
  ];
}

/** Sum of factor × displacement of a node in a direction (0 to 2) = 0; the first term is the dependent one. */
export function equation(terms: readonly (readonly [node: number, direction: number, factor: number])[]): string[] {
  return [
    '*EQUATION',
    String(terms.length),
    ...chunks(terms, 4).map((row) => row.map(([node, k, factor]) => `${node},${k + 1},${number(factor)}`).join(',')),
  ];
}

function chunks<T>(items: readonly T[], size: number): T[][] {
  const rows: T[][] = [];
  for (let k = 0; k < items.length; k += size) rows.push(items.slice(k, k + size));
  return rows;
}
