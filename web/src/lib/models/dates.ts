import { useBy } from '$domain/dates.ts';
import type { DateInput } from '$domain/dates.ts';
import { addDays } from '$domain/time.ts';
import { maths } from './maths.ts';
import { own } from './own/dates.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const TUB: DateInput = { product: 'hot-smoked', packageKind: 'tub', storage: 'refrigerated', smokeDay: null, mixedDay: null, ingredientLastDays: [], frozenDay: null, thawedDay: null };

function checks(): ModelCheck[] {
  const last = (change: Partial<DateInput>) => useBy({ ...TUB, ...change }).lastDay ?? 'no date';
  return [
    { what: 'Made 1 May, discard', source: 'FC 3-501.17, worked case', published: '2025-05-07', found: last({ smokeDay: '2025-05-01' }), unit: '', within: 0 },
    { what: 'Cooked 1 October, frozen 3, thawed 10: last day', source: 'FC 3-501.17, NC worked case', published: '2025-10-14', found: last({ smokeDay: '2025-10-01', frozenDay: '2025-10-03', thawedDay: '2025-10-10' }), unit: '', within: 0 },
    { what: 'The same with no day of freezing', source: 'missing evidence shortens', published: '2025-10-07', found: last({ smokeDay: '2025-10-01', thawedDay: '2025-10-10' }), unit: '', within: 0 },
    { what: 'A dip mixed 4 May of fish smoked 1 May', source: 'FDA/USDA storage chart: 3 to 4 days', published: '2025-05-06', found: last({ product: 'dip', mixedDay: '2025-05-04', smokeDay: '2025-05-01' }), unit: '', within: 0 },
    { what: 'A dip mixed 6 May of that fish: the fish\'s own date', source: 'FC 3-501.17(C)', published: '2025-05-07', found: last({ product: 'dip', mixedDay: '2025-05-06', smokeDay: '2025-05-01' }), unit: '', within: 0 },
    { what: 'Smoked, frozen the same day 1 May: at its best until', source: 'MSU 1997, Missouri: 2 to 3 months', published: '2025-07-01', found: last({ smokeDay: '2025-05-01', frozenDay: '2025-05-01', storage: 'frozen' }), unit: '', within: 0 },
    { what: 'No smoke day', source: 'missing evidence shortens', published: 'no date', found: last({}), unit: '', within: 0 },
    { what: 'Six days after 1 May', source: 'the calendar', published: '2025-05-07', found: addDays('2025-05-01', 6), unit: '', within: 0 },
  ];
}

export const page: ModelPage = {
  slug: 'dates',
  purpose: 'Gives every pack its last day and says why: from what it is, how it is packed and kept, and when it was smoked, mixed, frozen and thawed.',
  own,
  equations: [
    { maths: maths('L = min ( S + 6 ,', 'L_1 , L_2 , … )'), words: 'Refrigerated: the smoke day is day 1 of seven; an ingredient that ends sooner ends it sooner.' },
    { maths: maths('L = W + n − 1 ,', 'n = L_cold − F + 1'), words: 'Thawed: what was left when it was frozen, the day of thawing included. Freezing stops the count and never starts it anew: once it was out of the freezer, an earlier freezing told later counts for nothing.' },
    { maths: maths('L_dip = min ( X + 2 ,', 'L_fish )'), words: 'A dip: three days from mixing, and never longer than the fish in it.' },
  ],
  symbols: [
    { sign: maths('L'), meaning: 'last day', unit: 'day' },
    { sign: maths('S'), meaning: 'day smoking began', unit: 'day' },
    { sign: maths('L_1'), meaning: 'last day of an ingredient', unit: 'day' },
    { sign: maths('L_cold'), meaning: 'last day if it had never been frozen', unit: 'day' },
    { sign: maths('L_dip , L_fish'), meaning: 'last day of a dip, and of the smoked fish in it', unit: 'day' },
    { sign: maths('F'), meaning: 'day of freezing', unit: 'day' },
    { sign: maths('W'), meaning: 'day of thawing', unit: 'day' },
    { sign: maths('n'), meaning: 'days left when it was frozen; the smoke day itself is always used up', unit: 'days' },
    { sign: maths('X'), meaning: 'day of mixing', unit: 'day' },
  ],
  figures: [
    { what: 'Seven days; freezing stops the count; the earliest date in a mixed food', source: 'FC 3-501.17', certainty: 'published' },
    { what: 'Three days for a dip', source: 'FDA/USDA storage chart, 3 to 4 days: the stricter', certainty: 'published' },
    { what: 'Two months for frozen smoked fish', source: 'MSU 1997; Missouri, 2 to 3 months: the stricter', certainty: 'published' },
    { what: 'Raw fish one day, frozen 6 months lean and 2 fatty', source: 'FDA chart', certainty: 'from memory' },
    { what: 'A vacuum pack or jar without measured salt is frozen at once', source: 'FC 3-502.12(C); FDA hazards guidance, chapter 13', certainty: 'published' },
  ],
  range: { holds: 'Hot-smoked fish, dips and raw fish, kept at 3.3 °C or below, in days of the club\'s own time zone.', outside: 'Where the pack may not be kept so at all, it says so and gives no date. A missing day shortens or gives no date, never a later one.' },
  checks,
  limits: ['A pack without air that was frozen later than the day it was packed is not shared without measured salt.', 'It counts days, not degrees: a warm refrigerator ends it sooner.', 'Where sources differ the stricter counts. A club may shorten a date, never lengthen it.', 'A best-before day is about quality, a use-by day about safety.'],
  never: 'Your local code and your health department decide for anything that is sold.',
};
