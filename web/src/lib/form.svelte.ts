/**
 * A form that loses nothing: what was typed stays through every failure, one tap sends once, and a retry after
 * a dead spot carries the same key so that one record is made.
 *
 *   const form = createForm({
 *     schema: landingBody,                       // the contract's schema, checked before sending
 *     initial: { species: '', count: 1, weightG: null as number | null },
 *     toBody: (v) => ({ ...v, note: v.note || undefined }),   // optional
 *     send: (body, idempotencyKey) => post('/api/landings', body, landingView, { idempotencyKey }),
 *     done: (landing) => goto(`/fish/${landing.id}`),
 *   });
 *
 *   <form onsubmit={form.submit} novalidate>
 *     <NumberField label="Weight" kind="weight" name="weightG" bind:value={form.values.weightG} error={form.errors.weightG} />
 *     <FormFailure {form} />
 *     <Button type="submit" busy={form.busy}>Record landing</Button>
 *   </form>
 *
 * `name` on a field is its path in the body ('captain.name'): it is where errors go and what gets the focus.
 * Call `form.fresh()` to empty it for the next one. An edit carries its `version` among the values: when it was stale, the
 * failure says what is there now and the form takes that version, so that saving again is a choice.
 */
import { tick } from 'svelte';
import type { z } from 'zod';
import { newIdempotencyKey } from './api/key.ts';
import { outcomeUnknown, Problem, says } from './api/problem.ts';
import { plainIssue } from './issues.ts';
import { versionNow } from './stale.ts';

export interface FormOptions<V extends object, S extends z.ZodType, R> {
  schema: S;
  initial: V;
  toBody?: (values: V) => unknown;
  send: (body: z.output<S>, idempotencyKey: string) => Promise<R>;
  done?: (result: R) => unknown;
}

export interface Form<V extends object> {
  values: V;
  /** Field path to message. An unknown path answers undefined. */
  readonly errors: Record<string, string | undefined>;
  /** The failure that belongs to no single field, or null. */
  readonly failure: unknown;
  readonly busy: boolean;
  readonly changed: boolean;
  submit: (event?: SubmitEvent) => Promise<boolean>;
  fresh: (values?: Partial<V>) => void;
  setError: (field: string, message: string | undefined) => void;
}

export function createForm<V extends object, S extends z.ZodType, R>(options: FormOptions<V, S, R>): Form<V> {
  const initial = (): V => $state.snapshot(options.initial) as V;
  let values = $state<V>(initial());
  let errors = $state.raw<Record<string, string | undefined>>({});
  let failure = $state.raw<unknown>(null);
  let busy = $state(false);
  // Kept while it is unknown whether the server acted, even if the person edits meanwhile: the server then says
  // that the first attempt went through instead of making a second record.
  let key: string | null = null;

  async function submit(event?: SubmitEvent): Promise<boolean> {
    event?.preventDefault();
    if (busy) return false;
    const element = (event?.currentTarget ?? null) as HTMLFormElement | null;
    errors = {};
    failure = null;

    const snapshot = $state.snapshot(values) as V;
    const parsed = options.schema.safeParse(options.toBody ? options.toBody(snapshot) : snapshot, { error: plainIssue });
    if (!parsed.success) {
      errors = byField(parsed.error.issues);
      await focusFirst(element, errors);
      return false;
    }

    busy = true;
    key ??= newIdempotencyKey();
    try {
      const result = await options.send(parsed.data, key);
      key = null;
      await options.done?.(result);
      return true;
    } catch (cause) {
      if (!outcomeUnknown(cause)) key = null;
      failure = cause;
      takeVersion(cause);
      if (cause instanceof Problem && cause.errors.length > 0) {
        errors = Object.fromEntries(cause.errors.map((error) => [fieldPath(error.field), sentence(error.message, error.remedy)]));
      }
      await focusFirst(element, errors);
      return false;
    } finally {
      busy = false;
    }
  }

  /** A version among the values was found stale: what is there now is shown with the failure, and saving again goes over it. */
  function takeVersion(cause: unknown): void {
    const now = versionNow(cause);
    if (now !== null && 'version' in values) (values as { version: unknown }).version = now;
  }

  return {
    get values() {
      return values;
    },
    set values(next) {
      values = next;
    },
    get errors() {
      return errors;
    },
    get failure() {
      return failure;
    },
    get busy() {
      return busy;
    },
    get changed() {
      return JSON.stringify($state.snapshot(values)) !== JSON.stringify(options.initial);
    },
    submit,
    fresh(next) {
      values = { ...initial(), ...next };
      errors = {};
      failure = null;
      key = null;
    },
    setError(field, message) {
      errors = { ...errors, [field]: message };
    },
  };
}

function byField(issues: readonly { path: PropertyKey[]; message: string }[]): Record<string, string> {
  const found: Record<string, string> = {};
  for (const issue of issues) {
    const path = issue.path.map(String).join('.');
    found[path] ??= issue.message;
  }
  return found;
}

/** The server may write body.captain.name, /captain/name or captain.name; fields use the last. */
function fieldPath(field: string): string {
  return field.replace(/^\/?(body[./])?/, '').replaceAll('/', '.').replace(/\[(\d+)\]/g, '.$1');
}

function sentence(message: string, remedy: string | undefined): string {
  if (remedy === undefined || says(message, remedy)) return message;
  return `${/[.!?]$/.test(message) ? message : `${message}.`} ${remedy}`;
}

async function focusFirst(element: HTMLFormElement | null, errors: Record<string, string | undefined>): Promise<void> {
  if (element === null) return;
  await tick();
  const wrong = Object.keys(errors).filter((path) => path !== '');
  const places = wrong.map((path) => `[name="${CSS.escape(path)}"], [data-field="${CSS.escape(path)}"]`);
  const field = places.length === 0 ? null : element.querySelector<HTMLElement>(places.join(', '));
  (field ?? element.querySelector<HTMLElement>('[data-failure]'))?.focus();
}
