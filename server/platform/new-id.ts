import type { Random } from './context.ts';

/** A UUID of version 7: it begins with the time, so that ids made later sort later (RFC 9562 section 5.7). */
export function newId(now: Date, random: Random): string {
  const bytes = Buffer.alloc(16);
  bytes.writeUIntBE(now.getTime(), 0, 6);
  bytes.set(random(10), 6);
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
