// What every screen is held to: no accessibility violation in either look, no sideways scrolling, nothing on the console.
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { quiet } from './quiet.ts';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const output = fileURLToPath(new URL('../../output/screens/', import.meta.url));
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'];
export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1280, height: 900 };
const NARROWEST = { width: 360, height: 780 };

type Violation = { id: string; help: string; nodes: { html: string; failureSummary?: string }[] };

export class Inspection {
  /** Everything that was found wrong, each with the screen it was found on. */
  readonly faults: string[] = [];
  readonly seen = new Set<string>();

  /** Listens to a page from its start. Refusals that the test provokes are named in `expected`. */
  watch(page: Page, who: string, expected: RegExp = /$^/): void {
    page.on('console', (message) => {
      const text = `${message.text()} ${message.location().url}`;
      if (message.type() === 'error' && !expected.test(text)) this.faults.push(`${who}: console: ${text}`);
    });
    page.on('pageerror', (error) => this.faults.push(`${who}: uncaught: ${error.message}`));
  }

  async screen(page: Page, name: string): Promise<void> {
    this.seen.add(name);
    await settle(page);
    const size = page.viewportSize() ?? PHONE;
    // A passing word lies over the page for some seconds; the page itself is what is looked at.
    const words = page.locator('[role=status] .toast').getByRole('button', { name: 'Close' });
    // It may go by itself just before it is closed.
    while ((await words.count()) > 0) await words.first().click({ timeout: 1_000 }).catch(() => undefined);
    await picture(page, `${name}-${size.width}`);
    // As tall as the page, so that nothing is judged while a bar at the edge lies half over it.
    await page.setViewportSize({ width: size.width, height: Math.max(size.height, await page.evaluate<number>('document.documentElement.scrollHeight')) });
    for (const look of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme: look, reducedMotion: 'reduce' });
      await settle(page);
      for (const v of await lasting(page, () => violations(page), (list) => list.length > 0)) this.faults.push(`${name} (${look}): ${v.id}: ${v.help}\n    ${v.nodes.slice(0, 3).map((n) => `${n.html.slice(0, 160)} | ${(n.failureSummary ?? '').replaceAll('\n', ' ').slice(0, 220)}`).join('\n    ')}`);
    }
    if (size.width < 500) await picture(page, `${name}-${size.width}-dark`);
    await page.setViewportSize(size);
    await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
    if (size.width < 500) {
      await page.setViewportSize(NARROWEST);
      await this.overflow(page, `${name} at ${NARROWEST.width} px`);
      await page.setViewportSize(size);
    } else await this.overflow(page, `${name} at ${size.width} px`);
  }

  private async overflow(page: Page, where: string): Promise<void> {
    const over = await lasting(page, () => page.evaluate(`(() => {
      const wide = document.documentElement.clientWidth;
      if (document.documentElement.scrollWidth <= wide) return '';
      return [...document.querySelectorAll('main *')].filter((n) => n.getBoundingClientRect().right > wide + 1).slice(0, 3).map((n) => n.outerHTML.slice(0, 120)).join(' | ') || 'the page';
    })()`), (words) => words !== '');
    if (over) this.faults.push(`${where}: wider than the screen: ${String(over)}`);
  }
}

/** What is found wrong counts once it has been there for a second: what measures itself follows a new width a frame or more later. */
async function lasting<T>(page: Page, look: () => Promise<T>, isWrong: (found: T) => boolean): Promise<T> {
  const end = Date.now() + 1_000;
  let found = await look();
  for (let looks = 1; isWrong(found) && (looks < 3 || Date.now() < end); looks++) {
    await page.waitForTimeout(100);
    found = await look();
  }
  return found;
}

async function violations(page: Page): Promise<Violation[]> {
  // An open sheet is all there is: what lies behind it cannot be reached. Evaluated from outside the page, so the content policy stays as it is.
  await page.evaluate(`if (!window.axe) { ${axeSource} }`);
  return (await page.evaluate(`axe.run(document.querySelector('[role=dialog], [role=alertdialog]') ?? document, { runOnly: { type: 'tag', values: ${JSON.stringify(TAGS)} }, resultTypes: ['violations'] }).then((r) => r.violations)`)) as Violation[];
}

/** Nothing is still loading or moving, letters have their shapes, and two frames were drawn since. */
async function settle(page: Page): Promise<void> {
  await quiet(page).catch(() => undefined);
  await page.evaluate(`(async () => {
    await document.fonts.ready;
    const ends = document.getAnimations().filter((a) => Number.isFinite(a.effect?.getComputedTiming().endTime)).map((a) => a.finished.catch(() => undefined));
    await Promise.race([Promise.all(ends), new Promise((late) => setTimeout(late, 5000))]);
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 150))));
  })()`);
}

export async function picture(page: Page, name: string): Promise<void> {
  mkdirSync(output, { recursive: true });
  await page.screenshot({ path: path.join(output, `${name}.png`) });
}
