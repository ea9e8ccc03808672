/**
 * Carries a block up and down its column. A mouse takes it at once; a finger holds it still for a moment first, so that
 * a swipe across it scrolls the page as anywhere. Near the edge the page scrolls along.
 */
import type { Attachment } from 'svelte/attachments';

export interface Carried {
  ready: () => boolean;
  onlift: () => void;
  /** How far from where it was taken, as a part of the column's height. */
  onmove: (share: number) => void;
  /** Let go; `moved` is false when it never left its place. */
  ondrop: (moved: boolean) => void;
  onabandon: () => void;
}

const HOLD_MS = 400;
/** A finger that holds still trembles; a mouse that clicks hardly does. */
const TREMBLE_PX = { touch: 10, mouse: 4 };
const EDGE_PX = 40;
const SCROLL_PX = 8;

export const carry = (carried: Carried): Attachment<HTMLElement> => (node) => {
  let pointer: { id: number; touch: boolean; startX: number; startY: number; y: number; heldAt: number } | null = null;
  let hold: ReturnType<typeof setTimeout> | undefined;
  let frame = 0;
  let lifted = false;
  let moved = false;
  // A drag ends with a click of its own, which must not open the block.
  let clickIsOurs = false;

  const column = (): HTMLElement => node.parentElement as HTMLElement;
  const place = (y: number): number => {
    const rect = column().getBoundingClientRect();
    return rect.height === 0 ? 0 : (y - rect.top) / rect.height;
  };

  function lift(): void {
    if (pointer === null) return;
    lifted = true;
    pointer.heldAt = place(pointer.y);
    if (pointer.touch) navigator.vibrate?.(15);
    carried.onlift();
  }

  function stop(): void {
    clearTimeout(hold);
    cancelAnimationFrame(frame);
    frame = 0;
    pointer = null;
    lifted = false;
  }

  function abandon(): void {
    if (pointer === null) return;
    const told = lifted;
    stop();
    if (told) carried.onabandon();
  }

  function follow(): void {
    if (pointer !== null && moved) carried.onmove(place(pointer.y) - pointer.heldAt);
  }

  /** While the pointer is at the edge of what scrolls, once a frame. */
  function scrollAlong(): void {
    frame = 0;
    const scroller = node.closest<HTMLElement>('[data-scroller]');
    if (pointer === null || !lifted || !moved || scroller === null) return;
    const rect = scroller.getBoundingClientRect();
    const top = rect.top + (Number.parseFloat(getComputedStyle(scroller).scrollPaddingTop) || 0);
    const step = pointer.y < top + EDGE_PX ? -SCROLL_PX : pointer.y > rect.bottom - EDGE_PX ? SCROLL_PX : 0;
    if (step === 0) return;
    scroller.scrollTop += step;
    follow();
    frame = requestAnimationFrame(scrollAlong);
  }

  const on = {
    pointerdown(event: PointerEvent): void {
      clickIsOurs = false;
      if (pointer !== null || event.button !== 0 || !carried.ready()) return;
      const touch = event.pointerType === 'touch';
      pointer = { id: event.pointerId, touch, startX: event.clientX, startY: event.clientY, y: event.clientY, heldAt: 0 };
      moved = false;
      if (touch) hold = setTimeout(lift, HOLD_MS);
      else {
        node.setPointerCapture(event.pointerId);
        lift();
      }
    },
    pointermove(event: PointerEvent): void {
      if (pointer?.id !== event.pointerId) return;
      pointer.y = event.clientY;
      const far = Math.hypot(event.clientX - pointer.startX, event.clientY - pointer.startY) > TREMBLE_PX[pointer.touch ? 'touch' : 'mouse'];
      if (!lifted) {
        if (far) stop();
        return;
      }
      moved ||= far;
      follow();
      if (frame === 0) frame = requestAnimationFrame(scrollAlong);
    },
    pointerup(event: PointerEvent): void {
      if (pointer?.id !== event.pointerId) return;
      const { touch } = pointer;
      const was = lifted;
      stop();
      if (!was) return;
      clickIsOurs = moved || touch;
      carried.ondrop(moved);
    },
    pointercancel: (event: PointerEvent): void => {
      if (pointer?.id === event.pointerId) abandon();
    },
    touchmove(event: TouchEvent): void {
      // From here on the finger carries; what did not scroll before the hold was over does not scroll now.
      if (lifted && pointer?.touch && event.cancelable) event.preventDefault();
    },
    contextmenu(event: MouseEvent): void {
      if (pointer?.touch) event.preventDefault();
    },
    click(event: MouseEvent): void {
      if (!clickIsOurs || event.detail === 0) return;
      clickIsOurs = false;
      event.stopPropagation();
      event.preventDefault();
    },
    keydown(event: KeyboardEvent): void {
      if (event.key === 'Escape') abandon();
    },
  };
  const names = Object.keys(on) as (keyof typeof on)[];
  for (const name of names) node.addEventListener(name, on[name] as EventListener, { passive: false, capture: name === 'click' });
  return () => {
    stop();
    for (const name of names) node.removeEventListener(name, on[name] as EventListener, { capture: name === 'click' });
  };
};
