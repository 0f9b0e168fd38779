import { readFileSync } from 'node:fs';
import { databasePath } from './places.ts';

/** The log of a data directory: its bytes, the size of a frame, and where each commit in it ends. */
export type WriteAheadLog = { bytes: Buffer; frameSize: number; commitEnds: number[] };

const headerSize = 32;
const frameHeaderSize = 24;

/**
 * Reads a write-ahead log by the published file format (https://www.sqlite.org/fileformat2.html, section 4): a frame whose
 * header gives a database size ends a commit; a frame with other salts than the log's header is left over from before.
 */
export function readWriteAheadLog(directory: string): WriteAheadLog {
  const bytes = readFileSync(`${databasePath(directory)}-wal`);
  const frameSize = frameHeaderSize + bytes.readUInt32BE(8);
  const salts = bytes.subarray(16, 24);
  const commitEnds: number[] = [];
  for (let start = headerSize; start + frameSize <= bytes.length; start += frameSize) {
    if (!bytes.subarray(start + 8, start + 16).equals(salts)) break;
    if (bytes.readUInt32BE(start + 4) !== 0) commitEnds.push(start + frameSize);
  }
  return { bytes, frameSize, commitEnds };
}
