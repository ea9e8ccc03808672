/** What crew does to slots from the calendar, each with its way back in the word at the foot of the page. */
import { slot as slotSchema, type Slot } from '$contract/stations.ts';
import { patch } from '$lib/api/client.ts';
import { session } from '$lib/session.svelte.ts';
import { toast } from '$lib/ui/toast.svelte.ts';
import { timesOn } from './span.ts';

export interface Board {
  /** The day that times are told against. */
  day: () => string;
  /** Shows a changed slot at once, before the day is read again. */
  take: (next: Slot) => void;
  reload: () => Promise<void>;
}

const put = (slot: Slot, change: object): Promise<Slot> => patch(`/api/slots/${slot.id}`, { version: slot.version, ...change }, slotSchema);

export function slotChanges(board: Board) {
  const told = (slot: Slot): string => timesOn(board.day(), slot, session.zone);

  function moved(before: Slot, next: Slot): void {
    board.take(next);
    const back = { stationId: before.station.id, startsAt: before.startsAt, endsAt: before.endsAt, amount: before.amount };
    toast(`${next.station.name}, ${next.batch.name}: ${told(next)}.`, { undo: async () => board.take(await put(next, back)) });
  }

  /** Whether it went through; when not, the reason is told and the day read again. */
  async function shift(slot: Slot, shiftMs: number): Promise<boolean> {
    const later = (instant: string) => new Date(Date.parse(instant) + shiftMs).toISOString();
    try {
      moved(slot, await put(slot, { startsAt: later(slot.startsAt), endsAt: later(slot.endsAt) }));
      return true;
    } catch (cause) {
      toast.failed(cause);
      void board.reload();
      return false;
    }
  }

  async function cancel(slot: Slot): Promise<void> {
    const gone = await put(slot, { cancelled: true });
    await board.reload();
    toast('Slot cancelled.', {
      undo: async () => {
        await put(gone, { cancelled: false });
        await board.reload();
      },
    });
  }

  function booked(made: Slot): void {
    toast(`${made.station.name} booked, ${told(made)}.`, {
      undo: async () => {
        await put(made, { cancelled: true });
        await board.reload();
      },
    });
  }

  return { moved, shift, cancel, booked };
}
