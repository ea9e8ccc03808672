import type { Config } from '../../config.ts';
import { derive } from '../../platform/auth/secrets.ts';
import { hashToken } from '../../platform/auth/tokens.ts';

export type LinkPurpose = 'invitation' | 'reset';
const places: Record<LinkPurpose, string> = { invitation: 'join', reset: 'reset' };

/**
 * The secret of a link, worked out from the service's own and from the record that the link is for. So the record's
 * making can be answered twice with the same link, although only a hash of it is kept.
 */
export function linkToken(config: Config, purpose: LinkPurpose, id: string, expiresAt: Date): string {
  return derive(config, 'link', `${purpose}:${id}${expiresAt.toISOString()}`).toString('base64url');
}
export const linkHash = (config: Config, purpose: LinkPurpose, id: string, expiresAt: Date): string => hashToken(linkToken(config, purpose, id, expiresAt));

export const linkOf = (config: Config, purpose: LinkPurpose, id: string, expiresAt: Date): string =>
  `${config.publicUrl}/${places[purpose]}/${linkToken(config, purpose, id, expiresAt)}`;

/** Who owns the Idempotency-Key of somebody who comes with a link: the link, whatever network they are in. */
export const linkOwner = (token: string): string => `link:${hashToken(token)}`;
