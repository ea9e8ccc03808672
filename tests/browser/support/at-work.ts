// A captain signed in on a phone, in a club of its own made by scene(): what the browser tests of one screen start from.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { freePort, startService, type Service } from '../../support/process.ts';
import { buildWebApp } from './build-once.ts';
import type { Hand } from './hand.ts';
import { Inspection, PHONE, picture } from './inspection.ts';
import { atToday, openBrowser, somebody } from './people.ts';
import { CAPTAIN, scene, type Scene } from './scene.ts';

const MINUTES = 60_000;

export type AtWork = { service: Service; browser: Browser; club: Scene; captain: Hand; inspection: Inspection };

/** Starts it before the file's tests and ends it after them; `ready` is told when it stands. A failed test leaves a picture under the name. */
export function captainAtWork(name: string, ready: (at: AtWork) => void | Promise<void>): Inspection {
  const inspection = new Inspection();
  let folder: string;
  let service: Service;
  let browser: Browser;
  let captain: Hand;

  beforeAll(async () => {
    buildWebApp();
    folder = mkdtempSync(path.join(tmpdir(), `tidelarder-${name}-`));
    const port = String(await freePort());
    service = await startService({ DATA_DIR: path.join(folder, 'data'), PORT: port, PUBLIC_URL: `http://127.0.0.1:${port}` });
    const club = await scene(service);
    browser = await openBrowser();
    captain = await somebody(browser, service.url, 'captain', inspection, PHONE, { refusals: true });
    await captain.page.goto('/sign-in');
    await captain.type(/user name/i, CAPTAIN.login);
    await captain.type(/^Password/, CAPTAIN.password);
    await captain.button('Sign in');
    await atToday(captain.page);
    await ready({ service, browser, club, captain, inspection });
  }, 10 * MINUTES);

  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail') return;
    if (captain) await picture(captain.page, `failed-${name}`);
    console.error([...new Set(inspection.faults)].join('\n'), service?.output().slice(-2000));
  });

  afterAll(async () => {
    await browser?.close();
    service?.child.kill('SIGTERM');
    await service?.exited;
    if (folder) rmSync(folder, { recursive: true, force: true });
  }, MINUTES);

  return inspection;
}
