import type { Config } from '../../config.ts';
import { derive } from '../../platform/auth/secrets.ts';

/** Letters that are told apart in any type and read aloud without doubt; 16 of them, so that each byte gives one evenly. */
const letters = 'ABCDEHKMNPRTUWXY';

/**
 * The code that guards the set-up page, such as 'KMNA-TTRE-WXHP'. It comes from the service's secret, so that every
 * server process prints the same one, and a restart does not change it. 16^12 codes, with few tries.
 */
export function setupCode(config: Config): string {
  const bytes = derive(config, 'setup', 'code').subarray(0, 12);
  const text = Array.from(bytes, (byte) => letters[byte % letters.length]).join('');
  return [text.slice(0, 4), text.slice(4, 8), text.slice(8)].join('-');
}

/** As people type it: small letters, with or without dashes and spaces. */
export const plainCode = (typed: string): string => typed.toUpperCase().replace(/[^A-Z]/g, '');
