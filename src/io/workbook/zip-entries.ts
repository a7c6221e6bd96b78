/** One entry of a zip's central directory. */
export interface ZipEntry {
  path: string;
  /** 0 stored, 8 deflated. */
  method: number;
  encrypted: boolean;
  crc32: number;
  /** The entry's bytes as they stand in the archive. */
  packed: Uint8Array;
}

const endSignature = 0x06054b50;
const directorySignature = 0x02014b50;
const localSignature = 0x04034b50;
/** A workbook has some dozens of parts. */
const mostEntries = 20_000;

/**
 * The entries of a zip archive (PKWARE's APPNOTE) by its central directory, which stands at the end: a file
 * that is cut short has none. Null where the archive is broken. Sizes that the directory states are used to
 * find the packed bytes only, never to reserve memory.
 */
export function zipEntries(bytes: Uint8Array): Map<string, ZipEntry> | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endOfDirectory(view);
  if (end < 0) return null;
  const count = Math.min(view.getUint16(end + 10, true), mostEntries);
  let at = view.getUint32(end + 16, true);
  const entries = new Map<string, ZipEntry>();
  for (let i = 0; i < count; i++) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== directorySignature) return null;
    const flags = view.getUint16(at + 8, true);
    const nameLength = view.getUint16(at + 28, true);
    const next = at + 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > view.byteLength) return null;
    const path = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength));
    const packed = packedBytes(bytes, view, view.getUint32(at + 42, true), view.getUint32(at + 20, true));
    if (packed === null) return null;
    entries.set(path.replaceAll("\\", "/").toLowerCase(), {
      path,
      method: view.getUint16(at + 10, true),
      encrypted: (flags & 1) !== 0,
      crc32: view.getUint32(at + 16, true),
      packed,
    });
    at = next;
  }
  return entries;
}

function endOfDirectory(view: DataView): number {
  const least = Math.max(0, view.byteLength - 22 - 0xffff);
  for (let at = view.byteLength - 22; at >= least; at--) {
    if (view.getUint32(at, true) === endSignature) return at;
  }
  return -1;
}

function packedBytes(bytes: Uint8Array, view: DataView, offset: number, size: number): Uint8Array | null {
  if (offset + 30 > view.byteLength || view.getUint32(offset, true) !== localSignature) return null;
  const start = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  // A size of 2^32 − 1 stands for one that only a 64-bit archive can hold: no workbook of a laboratory.
  if (start + size > view.byteLength) return null;
  return bytes.subarray(start, start + size);
}

const crcTable = Int32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  return c;
});

/** Running CRC-32 of ISO 3309; starts from −1 and is inverted at the end. */
export function crcOf(bytes: Uint8Array, crc: number): number {
  let c = crc;
  for (let i = 0; i < bytes.length; i++) c = (c >>> 8) ^ crcTable[(c ^ bytes[i]) & 0xff];
  return c;
}
