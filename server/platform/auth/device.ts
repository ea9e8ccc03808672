import type { Config } from '../../config.ts';
import type { Random } from '../context.ts';
import { newId } from '../new-id.ts';
import { derive, same } from './secrets.ts';
import { DEVICE_DAYS } from './tokens.ts';

/** A device on which this member signed in before. It opens nothing; its tries are only counted apart from strangers'. */
export type Device = { id: string; memberId: string };

const seal = (config: Config, text: string) => derive(config, 'device', text).toString('base64url');

export function deviceToken(config: Config, random: Random, memberId: string, now: Date): string {
  const text = `${memberId}.${newId(now, random)}.${now.getTime().toString(36)}`;
  return `${text}.${seal(config, text)}`;
}

/** The device that a cookie names, or null when there is none, it is forged, or it is older than a device is remembered. */
export function readDevice(config: Config, token: string | undefined, now: Date): Device | null {
  const [memberId, id, madeAt, mac, ...rest] = (token ?? '').split('.');
  if (!memberId || !id || !madeAt || !mac || rest.length > 0) return null;
  if (!same(mac, seal(config, `${memberId}.${id}.${madeAt}`))) return null;
  const ageMs = now.getTime() - Number.parseInt(madeAt, 36);
  return ageMs <= DEVICE_DAYS * 86_400_000 ? { id, memberId } : null;
}
