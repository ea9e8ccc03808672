import { describe, expect, it } from 'vitest';
import { RULES } from '../../server/domain/rules/registry.ts';
import { rulesInWords } from '../../server/domain/rules/titles.ts';
import { sourceInWords } from '../../server/domain/sources.ts';
import { MODELS } from '../../server/domain/working.ts';
import { PAGES } from '../../web/src/lib/models/index.ts';
import { reckoned, startOf } from '../../web/src/lib/models/own/reckon.ts';

const context = { now: new Date('2026-06-10T08:00:00Z'), zone: 'Europe/London', system: 'metric' as const };
/** What looks like the name of a rule, whether there is such a rule or not. */
const CODE = /\b(?:advice|allergen|brine|chill|cool|cure|date|dry|hold|ice|lot|people|raw|record|rop|salt|share|smoke|species)\.[a-z][a-z-]+/;

it('a rule is named by its title, and by the whole of its name alone', () => {
  expect(rulesInWords('rule smoke.core (Michigan)')).toBe(`rule “${RULES.find(({ id }) => id === 'smoke.core')!.title}” (Michigan)`);
  expect(rulesInWords('smoke.core-home')).toBe(`“${RULES.find(({ id }) => id === 'smoke.core-home')!.title}”`);
  expect(rulesInWords('salt.airy, my.salt.air, salt.air.grams')).toBe('salt.airy, my.salt.air, salt.air.grams');
  for (const { id } of RULES.filter((rule) => rule.id.includes('.'))) expect(rulesInWords(`(${id})`)).not.toContain(id);
});

describe.each(MODELS)('the page of %s', (slug) => {
  it('shows no name of a rule as the code has it', async () => {
    const { page } = await PAGES[slug].load();
    const own = (page.own ?? []).map((part) => reckoned(part, startOf(part, context), context).answer!);
    const workings = own.flatMap(({ rows }) => rows.flatMap((row) => row.working ?? []));
    // As it stands, and as the page and the sheet of a working turn it into words.
    const plain = [
      page.purpose, page.range.holds, page.range.outside, page.never, ...page.limits, ...page.equations.map((e) => e.words), ...page.symbols.map((s) => s.meaning), ...page.figures.map((f) => f.what), ...page.checks().map((c) => c.what),
      ...own.flatMap(({ rows, says, cautions }) => [...rows.flatMap((row) => [row.label, row.value, row.band ?? '']), says ?? '', ...(cautions ?? []).map(({ text }) => text)]), ...workings.flatMap((w) => w.inputs.map(({ name, value }) => `${name} ${value}`)),
    ];
    const turned = [...page.figures, ...page.checks(), ...workings].map(({ source }) => sourceInWords(source)).concat(workings.flatMap((w) => [w.formula, w.range ?? '', w.uncertainty ?? ''])).map(rulesInWords);
    for (const said of [...plain, ...turned]) expect(said).not.toMatch(CODE);
  });
});
