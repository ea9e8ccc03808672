import { useBy } from '$domain/dates.ts';
import { addDays, localDay } from '$domain/time.ts';
import type { Day } from '$domain/working.ts';
import { showDay } from '../../show.ts';
import { choice, day, maybeDay, part } from './part.ts';
import { fatWords } from './words.ts';

const products = { 'hot-smoked': 'Hot-smoked fish', 'dip': 'Dip', 'raw': 'Raw fish' } as const;
const packages = { tub: 'Tub', bag: 'Bag', vacuum: 'Vacuum pack', jar: 'Jar' } as const;
const on = (text: string): Day | null => (text === '' ? null : text);

export const own = [
  part({
    title: 'Until when does it keep?',
    calculations: ['last-day'],
    fields: {
      product: choice('What it is', products, 'hot-smoked'),
      smokeDay: day('Smoked on', ({ now, zone }) => localDay(now, zone), { hint: 'The day smoking began', when: (v) => v['product'] !== 'raw' }),
      mixedDay: maybeDay('Mixed on', { start: ({ now, zone }) => localDay(now, zone), when: (v) => v['product'] === 'dip' }),
      caughtDay: maybeDay('Caught on', { start: ({ now, zone }) => addDays(localDay(now, zone), -1), when: (v) => v['product'] === 'raw' }),
      fat: choice('The fish is', fatWords, 'fatty', { when: (v) => v['product'] === 'raw' }),
      packageKind: choice('Packed in', packages, 'tub'), storage: choice('Kept', { refrigerated: 'In the refrigerator', frozen: 'Frozen' }, 'refrigerated'),
      frozenDay: maybeDay('Frozen on', { hint: 'Empty: never, or nobody knows' }), thawedDay: maybeDay('Thawed on', { when: (v) => v['frozenDay'] !== '' }),
    },
    fieldFor: (field) => (field === 'ingredientLastDays' ? 'smokeDay' : field),
    reckon: (v) => {
      const raw = v.product === 'raw';
      const a = useBy({ product: v.product, packageKind: v.packageKind, storage: v.storage, smokeDay: raw ? null : on(v.smokeDay), mixedDay: v.product === 'dip' ? on(v.mixedDay) : null, ingredientLastDays: [], frozenDay: on(v.frozenDay), thawedDay: v.frozenDay === '' ? null : on(v.thawedDay), ...(raw && { caughtDay: on(v.caughtDay), fat: v.fat }) });
      return {
        rows: [
          { label: a.kind === 'use-by' ? 'Eat it by' : 'At its best until', value: a.lastDay === null ? 'no date' : showDay(a.lastDay), exact: a.lastDay, working: a.working },
          ...(a.daysLeftAfterThaw === null ? [] : [{ label: 'Days left once thawed', value: String(a.daysLeftAfterThaw), exact: a.daysLeftAfterThaw, working: a.working }]),
          { label: 'On the label', value: a.storageWords, exact: a.storageWords },
        ],
        cautions: [...a.reasons.map((r) => ({ level: 'note' as const, text: r.text })), { level: 'mind', text: 'Longer dates need a laboratory’s salt and the batch’s logs: the pack’s own page counts those.' }],
      };
    },
  }),
];
