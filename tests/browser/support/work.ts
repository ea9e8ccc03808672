// The steps of the job that more than one test takes.
import { Temporal } from 'temporal-polyfill';
import type { Hand } from './hand.ts';
import type { Inspection } from './inspection.ts';

/** Hours ago as a date and time control takes it, in the club's zone. */
export function timeAgo(hours: number): string {
  const at = Temporal.Instant.fromEpochMilliseconds(Date.now() - Math.round(hours * 3_600_000)).toZonedDateTimeISO('Europe/London');
  return at.toPlainDateTime().toString({ smallestUnit: 'minute' });
}

/** When the fish of a test was caught and iced: one moment for all of it, so that no midnight falls between a trip and its landings. */
export const LANDED = { caught: timeAgo(12), iced: timeAgo(11.5) };

export async function recordLanding(hand: Hand, species: string, kilograms: string, inspection?: Inspection): Promise<void> {
  await hand.link(/^Record landing/);
  await hand.page.getByLabel(/^Weight/).first().waitFor();
  await hand.find('Species', species, new RegExp(species, 'i'));
  await hand.type(/^Weight/, kilograms);
  await hand.tap(hand.page.getByRole('radio', { name: 'Yes, may be pooled' }));
  // Without these times fish that forms histamine stays on hold, so they stand among the first questions.
  await hand.page.getByLabel(/^Caught(?! by)/).fill(LANDED.caught);
  await hand.page.getByLabel(/^On ice/).fill(LANDED.iced);
  if (inspection) await inspection.screen(hand.page, 'record-landing');
  await hand.button('Save landing');
  await hand.page.getByRole('heading', { name: 'Landings' }).waitFor();
}

export async function newBatch(hand: Hand): Promise<void> {
  await hand.link('Batches');
  await hand.link('New batch');
  const landings = hand.page.getByRole('checkbox', { name: /mackerel/i });
  await landings.nth(1).waitFor();
  await hand.tap(landings.nth(0));
  await hand.tap(landings.nth(1));
  await hand.button(/^Start batch/);
  await hand.page.waitForURL(/\/batches\/[0-9a-f-]{36}/);
  await hand.page.getByRole('heading', { name: 'Stages' }).waitFor();
}

export async function bookFor(hand: Hand, stage: string, inspection: Inspection): Promise<void> {
  await hand.link(/is not started/);
  await hand.button('Book a station');
  await hand.page.getByLabel(/^Station/).waitFor();
  await hand.tap(hand.page.getByRole('radio', { name: stage, exact: true }));
  await inspection.screen(hand.page, 'book-station');
  await hand.button('Book');
  await hand.page.getByRole('heading', { name: 'Booked', exact: true }).waitFor();
}

type Evidence = { core: string; minutes: string };
type Cooled = { to21At: string; to5At: string };

/** A stage that is over, entered in one go with its times. */
export async function runStage(hand: Hand, kind: string, kilogramsOut: string, from: string, to: string, inspection?: Inspection, evidence?: Evidence, isUnusual = false): Promise<void> {
  const { page } = hand;
  await hand.button('Next stage');
  await hand.tap(page.getByRole('radio', { name: kind, exact: true }));
  await hand.tap(page.getByRole('switch', { name: 'It is finished already' }));
  await hand.type(/^Weight out/, kilogramsOut);
  await hand.tap(page.getByText('More: times, weight in, note'));
  await page.getByLabel(/^Started/).fill(from);
  await page.getByLabel(/^Finished/).fill(to);
  if (evidence) {
    await hand.type(/^Highest core/, evidence.core);
    await hand.type(/^Held at/, evidence.minutes);
  }
  if (inspection) await inspection.screen(page, `stage-${kind.toLowerCase()}`);
  await hand.button('Save');
  if (isUnusual) {
    // Asked about once, with the reason, and saved at the second tap.
    await page.getByText(/than usual: \d+ to \d+ % expected/).waitFor();
    const again = page.getByRole('button', { name: 'Save all the same' });
    await again.waitFor();
    await hand.type(/^Why/, 'Gutted only');
    if (inspection) await inspection.screen(page, `stage-${kind.toLowerCase()}-asked`);
    await hand.tap(again);
  }
  await page.getByRole('button', { name: `Correct ${kind}`, exact: true }).waitFor();
  await page.getByRole('dialog').waitFor({ state: 'detached' });
}

/** From the first screen: the running stage, its weight, done. */
export async function finishStage(hand: Hand, kind: string, kilogramsOut: string, cooled?: Cooled): Promise<void> {
  await hand.link(new RegExp(`${kind}:`));
  await hand.button(`Finish ${kind.toLowerCase()}`);
  await hand.type(/^Weight out/, kilogramsOut);
  if (cooled) {
    await hand.page.getByLabel(/^Back at 21/).fill(cooled.to21At);
    await hand.page.getByLabel(/^Back at 5/).fill(cooled.to5At);
  }
  await hand.button('Save');
  await hand.page.getByRole('dialog').waitFor({ state: 'detached' });
}
