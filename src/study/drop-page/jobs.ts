import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import type { ReadOptions } from "../../io/read-options.js";
import { type InputAsRead, refused } from "../inputs/input-reading.js";
import type { ByteSource } from "../inputs/read-large.js";
import { readSource, type Sha256 } from "../inputs/read-source.js";
import { assessCompound, type CompoundAssessment, type CompoundTask } from "../run/assess-compound.js";
import type { DroppedInput } from "./sort-dropped.js";

/** An export with the file itself, or its bytes where a worker cannot read files. */
export type InputToRead = Omit<DroppedInput, "content"> & { content: Blob | ArrayBuffer | null };

/** What a worker is asked to do, and what it answers. */
export interface Jobs {
  read: {
    asked: { input: InputToRead; stated: ReadOptions | null };
    answer: InputAsRead;
  };
  fit: { asked: CompoundTask; answer: CompoundAssessment };
}

export type JobKind = keyof Jobs;

/** Does one job; the same in a worker and in the page itself. */
export async function runJob<Kind extends JobKind>(
  kind: Kind,
  asked: Jobs[Kind]["asked"],
): Promise<Jobs[Kind]["answer"]> {
  if (kind === "fit") return assessCompound(asked as CompoundTask);
  return readDropped(asked as Jobs["read"]["asked"]);
}

async function readDropped({ input, stated }: Jobs["read"]["asked"]): Promise<InputAsRead> {
  const { path, content } = input;
  const size = content === null ? 0 : content instanceof ArrayBuffer ? content.byteLength : content.size;
  const unreadable = () =>
    refused(
      path,
      size,
      "study.unreadable-file",
      "The browser cannot read the file: it was changed, moved or locked since it was dropped, or may not be read. Drop it again.",
    );
  if (content === null) return unreadable();
  try {
    return await readSource(sourceOf(content), size, path, stated, newSha256);
  } catch {
    return unreadable();
  }
}

function sourceOf(content: Blob | ArrayBuffer): ByteSource {
  return {
    async read(buffer, offset, length, position) {
      const piece = content.slice(position, position + length);
      const bytes = new Uint8Array(piece instanceof Blob ? await piece.arrayBuffer() : piece);
      buffer.set(bytes, offset);
      return { bytesRead: bytes.length };
    },
  };
}

/** Not the browser's own: that hashes no file piece by piece, and is missing where a page is opened from disk in some browsers. */
export function newSha256(): Sha256 {
  const hash = sha256.create();
  return { update: (bytes) => hash.update(bytes), hex: () => bytesToHex(hash.digest()) };
}
