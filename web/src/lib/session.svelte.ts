/**
 * Who is using this page, and the club they belong to.
 *
 *   session.me?.name        session.club?.timeZone       session.zone    session.system ('metric' | 'us')
 *   session.isCaptain       session.isCrew (captain or crew)              session.is('captain', 'crew')
 *   await session.load()    await session.signOut()
 *
 * Inside the (app) routes somebody is always signed in: the frame waits for it, so `session.me` is set there.
 */
import { session as sessionSchema, type Club, type Me, type Session as SessionAnswer } from '$contract/people.ts';
import type { Role } from '$contract/common.ts';
import { del, get } from './api/client.ts';
import { dropAnswers, keepAnswersOf } from './api/kept-answers.ts';
import { plainQuantities } from './api/plain-quantities.ts';
import { writeProblemsWith } from './api/problem.ts';
import { renewSession, whenSessionEnds } from './api/renew.ts';
import { dropDrafts, keepDraftsOf } from './draft.svelte.ts';
import { units, type UnitSystem } from './units.svelte.ts';

export type SessionState = 'loading' | 'in' | 'out' | 'failed';

const HINT = 'tidelarder.signedIn';
/** Renew this long before the access token runs out, so that a tap seldom meets a refusal first. */
const RENEW_AHEAD_MS = 30_000;

class Session {
  state = $state<SessionState>('loading');
  me = $state.raw<Me | null>(null);
  club = $state.raw<Club | null>(null);
  failure = $state.raw<unknown>(null);
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    whenSessionEnds(() => this.#ended());
  }

  get isCaptain(): boolean {
    return this.is('captain');
  }

  /** Crew's rights, which a captain has too. */
  get isCrew(): boolean {
    return this.is('captain', 'crew');
  }

  is(...roles: Role[]): boolean {
    return this.me !== null && roles.includes(this.me.role);
  }

  /** The club's time zone. Before anybody is known, the device's own. */
  get zone(): string {
    return this.club?.timeZone ?? new Intl.DateTimeFormat().resolvedOptions().timeZone;
  }

  /** This person's units: chosen on this device, or else the club's. */
  get system(): UnitSystem {
    return units.system ?? this.club?.units ?? 'metric';
  }

  async load(): Promise<void> {
    this.failure = null;
    if (this.state === 'failed') this.state = 'loading';
    try {
      const startedAt = Date.now();
      let answer = await get('/api/session', sessionSchema);
      // The access token lives for minutes only: a person who comes back has just the means to renew it.
      if (answer.me === null && hinted() && (await renewSession(startedAt))) answer = await get('/api/session', sessionSchema);
      this.take(answer);
    } catch (cause) {
      this.failure = cause;
      if (this.me === null) this.state = 'failed';
    }
  }

  /** Takes what signing in, joining or set-up answered, so that nothing has to be asked again. */
  take(answer: SessionAnswer): void {
    this.me = answer.me;
    this.club = answer.club;
    this.failure = null;
    this.state = answer.me === null ? 'out' : 'in';
    hint(answer.me !== null);
    if (answer.me !== null) {
      keepDraftsOf(answer.me.id);
      keepAnswersOf(answer.me.id);
    }
    this.#renewBefore(answer.accessExpiresAt);
  }

  /** Ends this device's session. Throws when the server could not be told: it would still be open there. */
  async signOut(): Promise<void> {
    await del('/api/session');
    dropDrafts();
    dropAnswers();
    this.#ended();
  }

  /** Ends the sessions of every device. */
  async signOutEverywhere(): Promise<void> {
    await del('/api/session/everywhere');
    dropDrafts();
    dropAnswers();
    this.#ended();
  }

  #ended(): void {
    clearTimeout(this.#timer);
    this.me = null;
    this.state = 'out';
    hint(false);
  }

  #renewBefore(expiresAt: string | null): void {
    clearTimeout(this.#timer);
    if (expiresAt === null) return;
    const wait = Date.parse(expiresAt) - Date.now() - RENEW_AHEAD_MS;
    if (!(wait > 0)) return;
    this.#timer = setTimeout(() => {
      // A page nobody looks at need not stay signed in; the next request renews.
      if (document.visibilityState !== 'visible') return;
      void renewSession(Date.now()).then((renewed) => (renewed ? this.load() : undefined));
    }, wait);
  }
}

function hinted(): boolean {
  try {
    return localStorage.getItem(HINT) === 'yes';
  } catch {
    return true;
  }
}

function hint(signedIn: boolean): void {
  try {
    if (signedIn) localStorage.setItem(HINT, 'yes');
    else localStorage.removeItem(HINT);
  } catch {
    // Without storage every visit asks once more than it must.
  }
}

export const session = new Session();
writeProblemsWith((text) => plainQuantities(text, session.zone, session.system));
