import type { Page } from 'playwright-core';

/** Chooses this device's units, as its settings do; holds from the next page on. */
export const inUnits = (page: Page, system: 'metric' | 'us'): Promise<unknown> => page.evaluate(`localStorage.setItem('tidelarder.units', '${system}')`);
