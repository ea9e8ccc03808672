import type { Locator, Page } from 'playwright-core';
import { placeOf } from './quiet.ts';

/** One person's hand on a screen: what it taps is counted, what it types is not. */
export class Hand {
  readonly page: Page;
  taps = 0;

  constructor(page: Page) {
    this.page = page;
  }

  async tap(target: Locator): Promise<void> {
    this.taps++;
    await target.click();
  }

  async button(name: string | RegExp, nth = 0): Promise<void> {
    await this.tap(this.page.getByRole('button', { name, exact: typeof name === 'string' }).nth(nth));
  }

  async link(name: string | RegExp, nth = 0): Promise<void> {
    await this.tap(this.page.getByRole('link', { name, exact: typeof name === 'string' }).nth(nth));
  }

  /** A tap into the field, then the typing. A field that has the keyboard already needs no tap. */
  async type(label: string | RegExp, text: string): Promise<void> {
    const field = this.field(label);
    await field.waitFor();
    if (!(await field.evaluate((node) => node === node.ownerDocument.activeElement))) await this.tap(field);
    await field.fill(text);
  }

  /** Two taps: open the list, take the line. */
  async pick(label: string | RegExp, option: string): Promise<void> {
    this.taps += 2;
    await this.field(label).selectOption({ label: option });
  }

  /** A tap into the field, the start of the name, a tap on what is found. */
  async find(label: string, text: string, found: string | RegExp): Promise<void> {
    const field = this.page.getByRole('combobox', { name: label }).first();
    await this.tap(field);
    await field.fill(text);
    const option = this.page.getByRole('option', { name: found }).first();
    // A list that moves between the finger's coming and going takes no tap.
    await placeOf(option);
    await this.tap(option);
    await this.page.getByRole('listbox').waitFor({ state: 'hidden' });
  }

  /** The page from the first screen on, and how many taps the work took. */
  async count(work: () => Promise<void>): Promise<number> {
    await this.page.goto('/');
    await this.page.getByRole('heading', { level: 1, name: 'Today' }).waitFor();
    const before = this.taps;
    await work();
    return this.taps - before;
  }

  private field(label: string | RegExp): Locator {
    return this.page.getByLabel(label, typeof label === 'string' ? { exact: false } : {}).first();
  }
}
