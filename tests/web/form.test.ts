import { describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { NetworkFailure, Problem } from '../../web/src/lib/api/problem.ts';
import { createForm } from '../../web/src/lib/form.svelte.ts';

const schema = z.strictObject({ name: z.string().min(1, 'Enter a name'), grams: z.int().min(1), crew: z.strictObject({ name: z.string().min(1) }) });
const initial = { name: '', grams: null as number | null, crew: { name: '' } };
const good = { name: 'Tern', grams: 450, crew: { name: 'Odd' } };

describe('a form', () => {
  it('does not send what the contract refuses, and says it at each field in plain words', async () => {
    const send = vi.fn(() => Promise.resolve());
    const form = createForm({ schema, initial, send });
    expect(await form.submit()).toBe(false);
    expect(send).not.toHaveBeenCalled();
    expect(form.errors).toEqual({ name: 'Enter a name', grams: 'Fill this in.', 'crew.name': 'Fill this in.' });
  });

  it('keeps everything typed when the server refuses, and shows its reason at the field', async () => {
    const refusal = new Problem(409, { title: 'That name is taken', errors: [{ field: 'name', message: 'That name is taken.', remedy: 'Choose another.' }] });
    const form = createForm({ schema, initial, send: () => Promise.reject(refusal) });
    Object.assign(form.values, good);
    expect(await form.submit()).toBe(false);
    expect(form.values).toEqual(good);
    expect(form.errors.name).toBe('That name is taken. Choose another.');
    expect(form.failure).toBe(refusal);
  });

  it.each(['/crew/name', 'body.crew.name', 'crew.name'])('finds the field the server calls %s', async (field) => {
    const form = createForm({ schema, initial, send: () => Promise.reject(new Problem(400, { errors: [{ field, message: 'No.' }] })) });
    Object.assign(form.values, good);
    await form.submit();
    expect(form.errors['crew.name']).toBe('No.');
  });

  it('whose edit was stale is saved over what is there now at the second try, with what was typed', async () => {
    const sent: unknown[] = [];
    const stale = new Problem(409, { changes: [{ field: 'name', yours: 'Tern', theirs: 'Skua' }, { field: 'version', yours: 3, theirs: 7 }] });
    const edit = z.strictObject({ version: z.int(), name: z.string() });
    const form = createForm({ schema: edit, initial: { version: 3, name: 'Tern' }, send: (body) => (sent.push(body), sent.length === 1 ? Promise.reject(stale) : Promise.resolve()) });
    expect(await form.submit()).toBe(false);
    expect(form.failure).toBe(stale);
    expect(await form.submit()).toBe(true);
    expect(sent).toEqual([{ version: 3, name: 'Tern' }, { version: 7, name: 'Tern' }]);
  });

  it('sends the same key again after no answer, even when the text was changed meanwhile', async () => {
    const keys: string[] = [];
    let up = false;
    const form = createForm({
      schema,
      initial,
      send: (_body, key) => {
        keys.push(key);
        return up ? Promise.resolve('made') : Promise.reject(new NetworkFailure('timeout'));
      },
    });
    Object.assign(form.values, good);
    await form.submit();
    form.values.name = 'Old Margit';
    up = true;
    expect(await form.submit()).toBe(true);
    expect(keys[1]).toBe(keys[0]);
  });

  it('takes a new key after a clear refusal and after a success', async () => {
    const keys: string[] = [];
    let refuse = true;
    const form = createForm({
      schema,
      initial,
      send: (_body, key) => {
        keys.push(key);
        return refuse ? Promise.reject(new Problem(422, {})) : Promise.resolve();
      },
    });
    Object.assign(form.values, good);
    await form.submit();
    refuse = false;
    await form.submit();
    await form.submit();
    expect(new Set(keys).size).toBe(3);
  });

  it('sends once for two taps', async () => {
    let finish = (): void => undefined;
    const send = vi.fn(() => new Promise<void>((resolve) => (finish = resolve)));
    const form = createForm({ schema, initial, send });
    Object.assign(form.values, good);
    const first = form.submit();
    expect(await form.submit()).toBe(false);
    finish();
    expect(await first).toBe(true);
    expect(send).toHaveBeenCalledTimes(1);
  });

  it('can be made fresh for the next one', async () => {
    const form = createForm({ schema, initial, send: () => Promise.resolve() });
    Object.assign(form.values, good);
    await form.submit();
    form.fresh({ name: 'Tern' });
    expect(form.values).toEqual({ ...initial, name: 'Tern' });
    expect(initial.name).toBe('');
  });
});
