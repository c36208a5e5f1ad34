import { gzipSync } from 'node:zlib';

/**
 * @typedef {object} Entry
 * @property {string} name Path inside the archive, with forward slashes.
 * @property {Uint8Array} data
 */

/**
 * A zip archive (PKWARE's APPNOTE 6.3, sections 4.3.7, 4.3.12 and 4.3.16) of deflated files, without directories. All files bear the
 * format's first date, so that the same files give the same archive.
 * @param {readonly Entry[]} entries Fewer than 65,536, and below 4 GB together.
 * @returns {Buffer}
 */
export function zip(entries) {
  /** @type {Buffer[]} */
  const files = [];
  /** @type {Buffer[]} */
  const directory = [];
  let offset = 0;
  for (const { name, data } of entries) {
    const path = Buffer.from(name);
    const { deflated, checksum } = deflate(data);
    const facts = Buffer.concat([
      short(neededVersion),
      short(utf8Names),
      short(deflateMethod),
      short(0), // midnight
      short(firstDate),
      long(checksum),
      long(deflated.length),
      long(data.length),
      short(path.length),
      short(0), // no extra fields
    ]);
    const file = Buffer.concat([long(0x04034b50), facts, path, deflated]);
    // No comment, first disk, not marked as text, no attributes.
    const place = Buffer.concat([short(0), short(0), short(0), long(0), long(offset)]);
    directory.push(long(0x02014b50), short(neededVersion), facts, place, path);
    files.push(file);
    offset += file.length;
  }
  const listing = Buffer.concat(directory);
  const count = short(entries.length);
  const end = [long(0x06054b50), short(0), short(0), count, count, long(listing.length), long(offset), short(0)];
  return Buffer.concat([...files, listing, ...end]);
}

/** 2.0, the first that deflates. */
const neededVersion = 20;
const utf8Names = 0x0800;
const deflateMethod = 8;
/** 1 January 1980: years since 1980 in the upper seven bits, then four for the month and five for the day. */
const firstDate = (1 << 5) | 1;

/**
 * What the archive wants of a file, its deflated bytes and their checksum, is what gzip writes between its header of ten bytes and
 * the length at its end (RFC 1952).
 * @param {Uint8Array} data
 */
function deflate(data) {
  const gzipped = gzipSync(data, { level: 9 });
  return { deflated: gzipped.subarray(10, -8), checksum: gzipped.readUInt32LE(gzipped.length - 8) };
}

/** @param {number} value */
function short(value) {
  const bytes = Buffer.alloc(2);
  bytes.writeUInt16LE(value);
  return bytes;
}

/** @param {number} value */
function long(value) {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value);
  return bytes;
}
