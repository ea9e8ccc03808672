/**
 * Turns a read of many into a read of one. Whatever is asked for in one turn of the event loop goes together, in a statement
 * that is sent after all of it was asked: no answer is older than its question, and a busy moment costs one round trip.
 */
export function gathered<Key, Row>(readAll: (keys: Key[]) => Promise<readonly Row[]>): (key: Key) => Promise<Row> {
  let waiting: { key: Key; resolve(row: Row): void; reject(error: unknown): void }[] = [];
  async function send(): Promise<void> {
    const asked = waiting;
    waiting = [];
    try {
      const rows = await readAll(asked.map(({ key }) => key));
      asked.forEach(({ resolve }, i) => resolve(rows[i]!));
    } catch (error) {
      for (const { reject } of asked) reject(error);
    }
  }
  return (key) =>
    new Promise((resolve, reject) => {
      if (waiting.push({ key, resolve, reject }) === 1) setImmediate(() => void send());
    });
}
