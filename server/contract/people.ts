import { z } from 'zod';
import { id, instant, name, note, personRef, role, text, units, version } from './common.ts';

export const password = z
  .string()
  .min(10, 'Use at least 10 characters; three unrelated words are easy to remember')
  .max(200, 'Keep the password within 200 characters');
export const userName = z
  .string()
  .trim()
  .toLowerCase()
  .regex(/^[a-z0-9][a-z0-9._-]{1,29}$/, 'Use 2 to 30 letters, digits, dots, dashes or underscores, starting with a letter or digit');
export const email = z.string().trim().toLowerCase().max(254, 'Keep the e-mail address within 254 characters').email('Write the e-mail address as name@place');

export const newPerson = z.strictObject({ name, userName, email: email.optional(), password });

export const setupState = z.object({ needed: z.boolean() });
export const setupBody = z.strictObject({
  code: text(40, 'code').min(1, 'Enter the code printed where the service was started'),
  clubName: name,
  timeZone: text(60, 'time zone'),
  units,
  captain: newPerson,
});

export const club = z.object({
  name: z.string(),
  timeZone: z.string(),
  units,
  saleWords: z.string(),
  /** How to reach the club; stands on the public page of a pack. */
  contactWords: z.string(),
  /** The club's own source for 12 hours from death to ice when gutted before; empty: the rule's hours stay. */
  guttedSource: z.string(),
  version,
});
export const clubPatch = z.strictObject({
  version,
  name: name.optional(),
  timeZone: text(60, 'time zone').optional(),
  units: units.optional(),
  saleWords: text(80, 'words').min(1, 'Enter the words printed on every label').optional(),
  contactWords: text(160, 'words').optional(),
  guttedSource: text(300, 'source').refine((source) => source === '' || source.length >= 10, 'Write who allows it and where that stands, or leave it empty').optional(),
});

export const me = z.object({ id, name: z.string(), userName: z.string(), email: z.string().nullable(), role });
/** Who is signed in; null when nobody is. Access expiry lets the app renew ahead of time. */
export const session = z.object({ me: me.nullable(), club: club.nullable(), accessExpiresAt: instant.nullable() });
export const signInBody = z.strictObject({
  login: text(254, 'user name or e-mail').min(1, 'Enter your user name or e-mail'),
  password: z.string().min(1, 'Enter your password').max(200),
});
export const changePasswordBody = z.strictObject({ current: z.string().min(1, 'Enter your present password').max(200), next: password });

export const member = z.object({
  id,
  name: z.string(),
  userName: z.string(),
  role,
  joinedAt: instant,
  leftAt: instant.nullable(),
  version,
});
export const memberList = z.object({ items: z.array(member) });
export const memberPatch = z.strictObject({ version, name: name.optional(), role: role.optional() });
export const leaveBody = z.strictObject({ version });

export const invitationBody = z.strictObject({
  role,
  /** A former member who may come back with it; null: somebody new. */
  memberId: id.nullable().default(null),
  note: note.default(''),
  expiresInDays: z.int().min(1, 'An invitation lasts 1 to 30 days').max(30, 'An invitation lasts 1 to 30 days').default(7),
});
export const invitation = z.object({
  id,
  role,
  note: z.string(),
  invitedBy: personRef,
  createdAt: instant,
  expiresAt: instant,
  state: z.enum(['open', 'used', 'withdrawn', 'expired']),
  usedBy: personRef.nullable(),
  /** The former member whom it is for. */
  returning: personRef.nullable(),
});
export const invitationList = z.object({ items: z.array(invitation) });
/** The link is told once, in the answer to its making; only a hash of it is kept. */
export const madeInvitation = z.object({ invitation, link: z.string() });
export const linkToken = z.object({ token: z.string().min(20).max(100) });
export const invitationLook = z.object({ clubName: z.string(), role, invitedBy: z.string(), expiresAt: instant, returning: z.object({ name: z.string(), userName: z.string() }).nullable() });
export const acceptInvitationBody = newPerson;
/** Whoever comes back keeps name and user name. */
export const returnBody = z.strictObject({ password });

export const resetBody = z.strictObject({ memberId: id });
export const madeReset = z.object({ link: z.string(), expiresAt: instant });
export const resetLook = z.object({ name: z.string(), expiresAt: instant });
export const resetPasswordBody = z.strictObject({ password });

export type Session = z.infer<typeof session>;
export type Club = z.infer<typeof club>;
export type Me = z.infer<typeof me>;
export type Member = z.infer<typeof member>;
export type Invitation = z.infer<typeof invitation>;
