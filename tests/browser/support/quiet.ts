// When a page has come to rest: nothing asked for is still on its way, and what is shown stays where it is.
import type { Locator, Page, Request } from 'playwright-core';

const STILL_MS = 300;
const underWay = new WeakMap<Page, Set<Request>>();

/** From its start on; the browser's own word for a quiet network is said once for each document, whatever is asked for later. */
export function follow(page: Page): void {
  const requests = new Set<Request>();
  underWay.set(page, requests);
  page.on('request', (request) => {
    // What the document before asked for is answered to nobody.
    if (request.isNavigationRequest()) requests.clear();
    requests.add(request);
  });
  page.on('requestfinished', (request) => requests.delete(request));
  page.on('requestfailed', (request) => requests.delete(request));
}

/** Waits until nothing has been on its way for a moment; fails when that does not come. */
export async function quiet(page: Page, limitMs = 15_000): Promise<void> {
  const requests = underWay.get(page);
  if (!requests) throw new Error('This page is not followed: call follow(page) when it is made.');
  const end = Date.now() + limitMs;
  for (let since = Date.now(); Date.now() - since < STILL_MS; await page.waitForTimeout(25)) {
    if (requests.size > 0) since = Date.now();
    if (Date.now() > end) throw new Error(`Still on its way after ${limitMs} ms: ${[...requests].map((r) => r.url()).join(', ')}`);
  }
}

/** Where it lies once it has stayed there for a moment. */
export async function placeOf(target: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  await target.waitFor();
  await quiet(target.page());
  for (let [before, tries] = [await target.boundingBox(), 0]; tries < 100; tries++) {
    await target.page().waitForTimeout(100);
    const now = await target.boundingBox();
    if (before && now && before.x === now.x && before.y === now.y && before.width === now.width && before.height === now.height) return now;
    before = now;
  }
  throw new Error('It never lay still.');
}
