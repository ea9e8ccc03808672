import type { Role } from '../../contract/common.ts';
import type { Actor } from '../context.ts';
import { ProblemError } from '../errors/problem-error.ts';

/** The least role a route asks for; 'public' needs no sign-in. */
export type Access = 'public' | Role;

const rank: Record<Role, number> = { member: 1, crew: 2, captain: 3 };
export const isCrew = (actor: Actor) => rank[actor.role] >= rank.crew;
export const isCaptain = (actor: Actor) => actor.role === 'captain';

const words: Record<Role, string> = { member: 'a member', crew: 'crew or a captain', captain: 'a captain' };

/** Throws unless the actor's role reaches. Use cases call it first. */
export function need(actor: Actor | null, role: Role): Actor {
  if (!actor) throw new ProblemError('not-signed-in', 'Sign in and try again.');
  if (rank[actor.role] < rank[role]) throw new ProblemError('not-allowed', `This needs ${words[role]}. You are signed in as ${actor.role}.`);
  return actor;
}
