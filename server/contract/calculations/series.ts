// Logged temperatures as the calculations take them and speak of them.
import { z } from 'zod';
import { instant } from '../common.ts';

/** Some fit one request; the rest of a longer log is another smoke. */
const MOST_READINGS = 10_000;
export const loggedReading = z.object({ at: instant, celsius: z.number().nullable().describe('Null where the logger wrote nothing') });
export const loggedReadings = z.array(loggedReading).max(MOST_READINGS);

export const seriesFlag = z.object({
  kind: z.enum(['probe-error', 'out-of-order', 'duplicate', 'conflict', 'fahrenheit', 'unit-doubtful', 'spike', 'gap']),
  at: z.string(),
  celsius: z.number().nullable(),
  text: z.string(),
});
export const seriesGap = z.object({ fromAt: z.string(), toAt: z.string(), minutes: z.number() });
export const checkState = z.enum(['met', 'not-met', 'not-recorded']);
