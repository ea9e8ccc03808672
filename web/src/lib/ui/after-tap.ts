const LONGEST_MS = 600;

/**
 * Runs work once the tap that is under way has done what it was for, or after a moment when there is none. A message that comes in while a finger
 * leaves a field pushes the page down, and the tap would fall beside what it was meant for.
 */
export function afterTap(work: () => void): void {
  const run = (): void => {
    clearTimeout(timer);
    window.removeEventListener('click', soon, true);
    window.removeEventListener('keydown', run, true);
    work();
  };
  // The click is caught on its way down: what it was for comes first.
  const soon = (): void => {
    setTimeout(run);
  };
  window.addEventListener('click', soon, true);
  window.addEventListener('keydown', run, true);
  const timer = setTimeout(run, LONGEST_MS);
}
