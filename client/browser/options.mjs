import { parseArgs } from 'node:util';

/**
 * The command line of `npm start`.
 * @typedef {object} Options
 * @property {number} port First port to try; 0 lets the system choose.
 * @property {string | undefined} folder Folder to work in; the copy of the examples where absent.
 * @property {boolean} fresh Copy the examples again, losing what was changed in the copy.
 * @property {boolean} open Open the browser.
 * @property {boolean} help
 */

export const usage = `Serves VS Code with Springwright to a browser on this machine.

  npm start -- [options]

  --port PORT    port to serve at; the next free one if it is taken (default 3777)
  --folder DIR   work in DIR instead of the copy of the examples in .work/examples
  --fresh        copy the examples again; changes made in the copy are lost
  --no-open      print the address only
  --help         show this text
`;

/**
 * @param {readonly string[]} args
 * @returns {Options} Throws an error of one line for an option that is unknown or out of range.
 */
export function readOptions(args) {
  const values = parse(args);
  if (values.fresh && values.folder !== undefined) {
    throw new Error('--fresh copies the examples again and cannot be used together with --folder.');
  }
  return {
    port: readPort(values.port),
    folder: values.folder,
    fresh: values.fresh,
    open: !values['no-open'],
    help: values.help,
  };
}

/** @param {readonly string[]} args */
function parse(args) {
  try {
    return parseArgs({
      args: [...args],
      options: {
        port: { type: 'string', default: '3777' },
        folder: { type: 'string' },
        fresh: { type: 'boolean', default: false },
        'no-open': { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    }).values;
  } catch (error) {
    throw new Error(/** @type {Error} */ (error).message.replaceAll('\n', ' '));
  }
}

/** @param {string} text */
function readPort(text) {
  const port = Number(text);
  if (!/^\d+$/.test(text) || port > 65535) {
    throw new Error(`--port ${text} is not a port: a whole number from 0 to 65535 was expected.`);
  }
  return port;
}
