/**
 * Renews the session once, however many requests and tabs found it expired at the same time. The refresh token is
 * rotated and a second use of an old one ends the whole family, so two renewals must never race.
 */
const LOCK = 'tidelarder.renew';
const STAMP = 'tidelarder.renewedAt';
const LEASE_MS = 10_000;

let running: Promise<boolean> | null = null;
let onEnded: (() => void) | null = null;

/** Called when the session cannot be renewed: the person has to sign in again. */
export function whenSessionEnds(callback: () => void): void {
  onEnded = callback;
}

/**
 * @param refusedAt when the request that met 401 was sent, in ms; a renewal by another tab since then is good enough
 * @returns whether the request is worth sending again
 */
export function renewSession(refusedAt: number): Promise<boolean> {
  running ??= withLock(() => renewOnce(refusedAt)).finally(() => {
    running = null;
  });
  return running;
}

async function renewOnce(refusedAt: number): Promise<boolean> {
  if (renewedAt() > refusedAt) return true;
  let response: Response;
  try {
    response = await fetch('/api/session/renew', { method: 'POST', credentials: 'same-origin' });
  } catch {
    // No answer is not an ended session; the caller's 401 stands and can be tried again.
    return false;
  }
  if (response.ok) {
    remember(Date.now());
    return true;
  }
  if (response.status === 401 || response.status === 403) onEnded?.();
  return false;
}

async function withLock(work: () => Promise<boolean>): Promise<boolean> {
  // Web Locks exist only in secure contexts; a club that serves plain http gets the lease below.
  if ('locks' in navigator && navigator.locks !== undefined) return navigator.locks.request(LOCK, work);
  return withLease(work);
}

/** A lock kept in storage: write one's own mark, wait for rival writes to land, and go on if the mark is still there. */
async function withLease(work: () => Promise<boolean>): Promise<boolean> {
  const mine = `${Math.random().toString(36).slice(2)}`;
  const giveUpAt = Date.now() + LEASE_MS;
  for (;;) {
    const held = readLease();
    if (held === null || held.until < Date.now() || Date.now() > giveUpAt) {
      if (!writeLease(`${mine}:${Date.now() + LEASE_MS}`)) return work();
      await pause(40);
      if (readLease()?.owner === mine) break;
    }
    await pause(60);
  }
  try {
    return await work();
  } finally {
    if (readLease()?.owner === mine) writeLease('');
  }
}

function readLease(): { owner: string; until: number } | null {
  try {
    const [owner = '', until = '0'] = (localStorage.getItem(LOCK) ?? '').split(':');
    return owner === '' ? null : { owner, until: Number(until) };
  } catch {
    return null;
  }
}

function writeLease(value: string): boolean {
  try {
    localStorage.setItem(LOCK, value);
    return true;
  } catch {
    return false;
  }
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

function renewedAt(): number {
  try {
    return Number(localStorage.getItem(STAMP) ?? 0);
  } catch {
    return 0;
  }
}

function remember(at: number): void {
  try {
    localStorage.setItem(STAMP, String(at));
  } catch {
    // Without storage each tab renews for itself.
  }
}
