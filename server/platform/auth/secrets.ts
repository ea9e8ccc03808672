import { createHmac, timingSafeEqual } from 'node:crypto';
import type { Config } from '../../config.ts';

/** 32 bytes that only this service can work out, from its secret, a purpose and a text. Purposes never meet. */
export function derive(config: Config, purpose: string, text: string): Buffer {
  return createHmac('sha256', `${config.secret}:${purpose}`).update(text).digest();
}

/** Compares without telling by its time how much was right. */
export function same(a: string, b: string): boolean {
  const [left, right] = [Buffer.from(a), Buffer.from(b)];
  return left.length === right.length && timingSafeEqual(left, right);
}
