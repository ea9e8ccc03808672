import type { z } from 'zod';
import type { setupBody } from '../../contract/people.ts';
import { countAttempt, networkOf, takeBackAttempt } from '../../platform/auth/attempts.ts';
import { hashPassword } from '../../platform/auth/passwords.ts';
import { same } from '../../platform/auth/secrets.ts';
import { startSession } from '../../platform/auth/sessions.ts';
import type { StartedSession } from '../../platform/auth/sessions.ts';
import type { Context } from '../../platform/context.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { newId } from '../../platform/new-id.ts';
import { actAs } from '../../platform/unit.ts';
import type { Unit } from '../../platform/unit.ts';
import { checkTimeZone } from '../club/club.service.ts';
import { insertClub } from '../club/club.store.ts';
import { insertMember } from '../people/members.store.ts';
import { sessionAfterReplay } from '../session/session.service.ts';
import { plainCode, setupCode } from './setup-code.ts';
import * as store from './setup.store.ts';

export { setupCode } from './setup-code.ts';

export async function setupState(context: Context): Promise<{ needed: boolean }> {
  return { needed: !(await store.hasClub(context.database.query)) };
}

/** Makes the club and its first captain, who is then signed in. Of two at once, the database lets one through. */
export async function setUp(context: Context, unit: Unit, body: z.infer<typeof setupBody>, address: string): Promise<StartedSession> {
  await checkCode(context, body.code, address);
  checkTimeZone('timeZone', body.timeZone);
  const { password, ...person } = body.captain;
  const passwordHash = await hashPassword(password);
  let started: StartedSession | null = null;
  const { memberId } = await unit.runRaw(async (query) => {
    const id = newId(unit.now, context.random);
    await actAs(query, id);
    await insertClub(query, { name: body.clubName, timeZone: body.timeZone, units: body.units, now: unit.now });
    await insertMember(query, { ...person, id, role: 'captain', passwordHash, now: unit.now });
    started = await startSession(query, context, id, unit.now);
    return { memberId: id };
  });
  return started ?? sessionAfterReplay(context, memberId, password, unit.now);
}

async function checkCode(context: Context, typed: string, address: string): Promise<void> {
  const attempt = { scope: 'setup', of: networkOf(address) } as const;
  await countAttempt(context, attempt);
  if (!same(plainCode(typed), plainCode(setupCode(context.config)))) {
    throw badField('code', typed.slice(0, 40), 'That is not the set-up code.', 'Copy it from where the service was started: three groups of four letters.');
  }
  await takeBackAttempt(context, attempt);
}
