import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { alike, draftKey, dropDrafts, keepDraft, keepDraftsOf, keptDraft } from '$lib/draft.svelte.ts';

const DAY_MS = 24 * 3_600_000;
const key = draftKey('forecast', 'batch-1');

beforeEach(() => {
  // As a browser's: what is kept are properties of its own, the rest is inherited.
  const store = Object.create({
    getItem(name: string) { return (this as unknown as Record<string, string>)[name] ?? null; },
    setItem(name: string, value: string) { (this as unknown as Record<string, string>)[name] = value; },
    removeItem(name: string) { delete (this as unknown as Record<string, string>)[name]; },
  });
  vi.stubGlobal('localStorage', store);
});
afterEach(() => vi.unstubAllGlobals());

it('what somebody entered is there for a day, for that person alone', () => {
  keepDraftsOf('ina', 0);
  keepDraft(key, '{"thicknessMm":40}', 1000);
  expect(keptDraft(key, 1000 + DAY_MS - 1)).toEqual({ values: { thicknessMm: 40 }, at: 1000 });
  expect(keptDraft(key, 1000 + DAY_MS)).toBeNull();
  expect(keptDraft(draftKey('forecast', 'batch-2'), 2000)).toBeNull();
  keepDraftsOf('ina', 2000);
  expect(keptDraft(key, 2000)).not.toBeNull();
  keepDraftsOf('olav', 2000);
  expect(keptDraft(key, 2000)).toBeNull();
  keepDraftsOf('ina', 2000);
  expect(keptDraft(key, 2000)).toBeNull();
});

it('signing out takes every draft away, and leaves the rest of the device alone', () => {
  keepDraftsOf('ina', 0);
  localStorage.setItem('tidelarder.look', 'dark');
  keepDraft(key, '{}', 1000);
  dropDrafts();
  keepDraft(key, '{}', 1000);
  expect(Object.keys(localStorage)).toEqual(['tidelarder.look']);
});

it('what is broken, or of another shape than the screen has now, is not used', () => {
  keepDraftsOf('ina', 0);
  localStorage.setItem(key, '{"owner":"ina"');
  expect(keptDraft(key, 0)).toBeNull();
  const start = { species: '', thicknessMm: 25, steps: [{ airC: 32 }], groups: [] };
  expect(alike({ species: 'cod', thicknessMm: null, steps: [{ airC: 1 }, { airC: null }], groups: [{ any: 1 }] }, start)).toBe(true);
  expect(alike({ species: 'cod', thicknessMm: 25, steps: [] }, start)).toBe(false);
  expect(alike({ ...start, steps: [{ airF: 90 }] }, start)).toBe(false);
  expect(alike({ ...start, thicknessMm: '25' }, start)).toBe(false);
  expect(alike({ ...start, more: 1 }, start)).toBe(false);
  expect(alike(null, start)).toBe(false);
});
