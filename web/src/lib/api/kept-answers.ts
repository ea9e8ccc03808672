/** The last answer to a question, kept on this device for when there is no signal. For the member who is signed in; signing out takes it away. */
const PREFIX = 'tidelarder.known.';
let owner: string | null = null;

export interface KeptAnswer {
  answer: unknown;
  /** When it was read, in milliseconds. */
  at: number;
}

/** Who is signed in here; what anybody else read goes. */
export function keepAnswersOf(memberId: string): void {
  owner = memberId;
  drop((key) => keptAnswer(key.slice(PREFIX.length)) === null);
}

export function dropAnswers(): void {
  owner = null;
  drop(() => true);
}

function drop(which: (key: string) => boolean): void {
  try {
    for (const key of Object.keys(localStorage).filter((one) => one.startsWith(PREFIX) && which(one))) localStorage.removeItem(key);
  } catch {
    // Then there was nothing to take away.
  }
}

export function keepAnswer(name: string, answer: unknown, at: number): void {
  if (owner === null) return;
  try {
    localStorage.setItem(PREFIX + name, JSON.stringify({ owner, at, answer }));
  } catch {
    // No room, or storage refused: then it is asked for anew each time.
  }
}

export function keptAnswer(name: string): KeptAnswer | null {
  try {
    const kept = JSON.parse(localStorage.getItem(PREFIX + name) ?? 'null') as { owner?: unknown; at?: unknown; answer?: unknown } | null;
    return kept !== null && owner !== null && kept.owner === owner && typeof kept.at === 'number' ? { answer: kept.answer, at: kept.at } : null;
  } catch {
    return null;
  }
}
