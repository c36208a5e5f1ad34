/**
 * Markdown that came from a branch of anybody's, made harmless: it can be read, and does nothing. No link, no image, no mention of
 * anybody, no number that refers to another issue, no HTML but what folds tables away. What it says may still be wrong.
 */

/** Where GitHub cuts a comment off is at 65,536 characters; what is put around the text has its place below that. */
const longest = 60_000;

const tags = new Set(['<details>', '</details>', '<summary>', '</summary>']);

/** A space without width: it breaks what would be recognised, and is not seen. */
const apart = '\u200b';

/**
 * @param {Uint8Array} bytes
 * @returns {string | undefined} undefined where it is no text
 */
export function harmlessMarkdown(bytes) {
  const text = decoded(bytes);
  if (text === undefined) return undefined;
  const plain = text
    .replace(/\r\n?/g, '\n')
    // Control characters, and those that turn the direction of writing or are not seen.
    .replace(/[\p{Cc}\p{Cf}]/gu, (character) => (character === '\n' ? character : ''))
    // The drawing lies beside the text, where a comment cannot show it.
    .replace(/^!\[[^\]\n]*\]\([^)\n]*\)$/gm, '')
    .replace(/&(?=[#\w])/g, `&${apart}`)
    .replace(/<[a-z/!?][^<>\n]*>?/gi, (tag) => (tags.has(tag) ? tag : `<${apart}${tag.slice(1)}`))
    // Blocks of code that are drawn, and formulas.
    .replace(/`{3,}|~{3,}/g, "'''")
    .replace(/\\(?=[a-z])/gi, `\\${apart}`)
    .replaceAll('@', `@${apart}`)
    .replace(/#(?=\d)/g, `#${apart}`)
    .replace(/\b(GH)-(?=\d)/gi, `$1${apart}-`)
    .replace(/(?<=\bwww)\./gi, `${apart}.`)
    .replaceAll('//', `/${apart}/`)
    .replace(/\b(mailto|xmpp):/gi, `$1${apart}:`)
    // Links and images, in place and by reference.
    .replace(/\](?=[([:])/g, `]${apart}`);
  return shortened(plain);
}

/** @param {Uint8Array} bytes */
function decoded(bytes) {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

/** @param {string} text */
function shortened(text) {
  if (text.length <= longest) return text;
  return `${text.slice(0, text.lastIndexOf('\n', longest))}\n\n</details>\n\n… and more: it is whole in the artifact of the run.\n`;
}
