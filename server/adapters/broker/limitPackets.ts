// How large a packet may be: without this a stranger's few bytes make the parser gather 256 MB before anybody is asked.
import type { Socket } from 'node:net';

export interface PacketLimits {
  /** Of a connection's first packet, which comes from anybody. */
  readonly firstBytesMax: number;
  readonly bytesMax: number;
}

/** Ends the connection at the header of a packet that announces too much; `tell` hears of it unless it was the first. */
export function limitPackets(
  socket: Socket,
  { firstBytesMax, bytesMax }: PacketLimits,
  tell: (announcedBytes: number) => void,
): void {
  const meter = makeMeter();
  let isFirst = true;
  const read = socket.read.bind(socket);
  // The broker takes everything through read(): what was seen here is what its parser sees.
  socket.read = (size?: number): unknown => {
    const chunk = read(size) as Buffer | null;
    if (chunk === null) return null;
    for (const announcedBytes of meter(chunk)) {
      if (announcedBytes > (isFirst ? firstBytesMax : bytesMax)) {
        if (!isFirst) tell(announcedBytes);
        socket.destroy();
        return null;
      }
      isFirst = false;
    }
    return chunk;
  };
}

/**
 * Follows the frames of MQTT 3.1.1 (2.2): one byte of type, the remaining length in up to four bytes of seven bits each, the
 * least first, and as many bytes. Gives what each header that ends in a chunk announces.
 */
function makeMeter(): (chunk: Buffer) => number[] {
  let skipBytes = 0;
  let lengthByteCount: number | null = null;
  let announcedBytes = 0;
  return (chunk) => {
    const found: number[] = [];
    let index = 0;
    while (index < chunk.length) {
      if (skipBytes > 0) {
        const skipped = Math.min(skipBytes, chunk.length - index);
        skipBytes -= skipped;
        index += skipped;
        continue;
      }
      const byte = chunk[index] as number;
      index += 1;
      if (lengthByteCount === null) {
        lengthByteCount = 0;
        announcedBytes = 0;
        continue;
      }
      announcedBytes += (byte & 127) * 128 ** lengthByteCount;
      lengthByteCount += 1;
      if (byte >= 128 && lengthByteCount < LENGTH_BYTES_MAX_COUNT) continue;
      found.push(announcedBytes);
      skipBytes = announcedBytes;
      lengthByteCount = null;
    }
    return found;
  };
}

const LENGTH_BYTES_MAX_COUNT = 4;
