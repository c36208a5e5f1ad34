/** The type of the sheets, the one that every PDF reader has, and its inks. */
export const REGULAR = 'Helvetica';
export const BOLD = 'Helvetica-Bold';
export const INK = '#24292f';
export const QUIET = '#57606a';

/** Points per millimetre. */
export const MM = 72 / 25.4;

/**
 * It has the letters of Western European languages only: signs of formulas and Greek letters are spelled, letters with marks that it
 * lacks lose them, and what is left shows as a question mark.
 */
export function plain(text: string): string {
  return text.replace(/[^ -~\u00a0-\u00ff\u2013\u2014\u2018\u2019\u201c\u201d\u2022\u2026]/g, spelled);
}

function spelled(letter: string): string {
  const sign = SIGNS[letter];
  if (sign !== undefined) return sign;
  const small = GREEK[letter.charCodeAt(0) - 0x3b1];
  if (small) return small;
  const large = GREEK[letter.charCodeAt(0) - 0x391];
  if (large) return `${large[0].toUpperCase()}${large.slice(1)}`;
  const bare = letter.normalize('NFKD').replace(/\p{Mark}/gu, '');
  return /^[ -~]+$/.test(bare) ? bare : '?';
}

const SIGNS: Readonly<Record<string, string>> = {
  '\n': ' ',
  '\u2192': '->',
  '\u2190': '<-',
  '\u2212': '-',
  '\u221a': 'sqrt ',
  '\u2220': 'angle ',
  '\u2248': '~',
  '\u2264': '<=',
  '\u2265': '>=',
  '\u2300': 'dia. ',
  '\u2032': "'",
  '\u2033': '"',
};

/** In the order of their codes. */
const GREEK = [
  ...['alpha', 'beta', 'gamma', 'delta', 'epsilon', 'zeta', 'eta', 'theta', 'iota', 'kappa', 'lambda', 'mu', 'nu'],
  ...['xi', 'omicron', 'pi', 'rho', 'sigma', 'sigma', 'tau', 'upsilon', 'phi', 'chi', 'psi', 'omega'],
];
