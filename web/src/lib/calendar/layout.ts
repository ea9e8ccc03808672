/** Slots that share a time in one station lie side by side. */
export interface Timed {
  id: string;
  startMs: number;
  endMs: number;
}

export interface Lane {
  lane: number;
  lanes: number;
}

/**
 * The lane of each slot and how many lanes its neighbours need. Slots are half-open: one that ends at 14:00 and one that
 * starts then share a lane. `leastMs` is how long the shortest block is drawn, so that short ones do not cover the next.
 */
export function sideBySide(slots: readonly Timed[], leastMs = 0): Map<string, Lane> {
  const placed = new Map<string, Lane>();
  const sorted = [...slots].sort((a, b) => a.startMs - b.startMs || b.endMs - a.endMs || (a.id < b.id ? -1 : 1));
  let group: { id: string; lane: number }[] = [];
  let laneEnds: number[] = [];
  const close = () => {
    for (const { id, lane } of group) placed.set(id, { lane, lanes: laneEnds.length });
    group = [];
    laneEnds = [];
  };
  for (const slot of sorted) {
    if (laneEnds.length > 0 && laneEnds.every((end) => end <= slot.startMs)) close();
    const free = laneEnds.findIndex((end) => end <= slot.startMs);
    const lane = free < 0 ? laneEnds.length : free;
    laneEnds[lane] = Math.max(slot.endMs, slot.startMs + leastMs);
    group.push({ id: slot.id, lane });
  }
  close();
  return placed;
}
