import { balance, overall } from '$domain/mass.ts';
import { expectedYield } from '$domain/yield.ts';
import type { YieldQuestion } from '$domain/yield.ts';
import { estimateYield } from '$domain/yield-evidence.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/yield.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const MACKEREL: YieldQuestion = { species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked', stage: 'prepare' };
const MEMORY = 'from memory';

function checks(): ModelCheck[] {
  const range = (change: Partial<YieldQuestion>) => {
    const answer = expectedYield({ ...MACKEREL, ...change });
    if (!answer.known) throw new Error(answer.reason);
    return answer;
  };
  const own = estimateYield({ question: { ...MACKEREL, stage: 'smoke' }, batches: [] });
  const cure = (brinePct: number) => range({ stage: 'cure', cure: { kind: 'wet', brinePct } });
  return [
    { what: 'Whole mackerel to skinless fillet, the low end', source: 'FAO CWP, factor 2.60', published: 38.46, found: range({}).lowPct, unit: '%', within: 0.005 },
    { what: 'Whole mackerel to fillet with skin, likely', source: 'FAO CWP, factor 1.95', published: 51.28, found: range({}).likelyPct, unit: '%', within: 0.005 },
    { what: 'Whole mackerel, all the flesh there is', source: 'FAO FTP 309', published: 61, found: range({}).highPct, unit: '%', within: 0.005 },
    { what: 'Whole cod to skinless fillet', source: 'EU 404/2011, factor 2.60', published: 38.46, found: range({ species: 'atlantic-cod' }).lowPct, unit: '%', within: 0.005 },
    { what: '8 % brine, most that is taken up', source: MEMORY, published: 108, found: cure(8).highPct, unit: '%', within: 0.005 },
    { what: '15 % brine, likely', source: MEMORY, published: 100, found: cure(15).likelyPct, unit: '%', within: 0.005 },
    { what: '20 % brine, most that is lost', source: MEMORY, published: 90, found: cure(20).lowPct, unit: '%', within: 0.005 },
    { what: 'Smoking with no batches of your own, the low end', source: MEMORY, published: 80, found: own.lowPct!, unit: '%', within: 0.01 },
    { what: '1,000 g in, 50 g added, 920 g out, 30 g trim: lost', source: 'arithmetic', published: 100, found: balance({ kind: 'cure', massInG: 1000, addedG: 50, massOutG: 920, trimG: 30 }).lossG, unit: 'g', within: 0 },
    { what: 'Half kept and then 80 %: overall', source: 'arithmetic', published: 40, found: overall([{ kind: 'prepare', massInG: 1000, massOutG: 500 }, { kind: 'smoke', massInG: 500, massOutG: 400 }]).overallPct ?? 'none', unit: '%', within: 0.001 },
  ];
}

export const page: ModelPage = {
  slug: 'yield',
  purpose: 'Tells what weight to expect after each stage, what was lost, and how the club\'s own batches change what is expected.',
  own,
  equations: [
    { maths: maths("'lost'", '=', "'in'", '+', "'added'", '−', "'out'", '−', "'trim'"), words: 'Whatever went in and did not come out was lost.' },
    { maths: maths('Y =', frac('100 f_from', 'f_to')), words: 'A yield from published factors of live weight over product weight.' },
    { maths: maths('Y_overall = Y_1 · Y_2 · …'), words: 'The yields of the stages multiply. A stage that was not weighed is bridged by its neighbours.' },
    { maths: [maths('ln Y = ( 1 − w ) ln Y_pub + w ln Y_own'), maths('w =', frac('n / s^2', 'n / s^2 + 1 / v'))], words: 'Your own batches outweigh the published figure as they come in.' },
  ],
  symbols: [
    { sign: maths('Y'), meaning: 'yield, of what went in; published and own with their index', unit: '%' },
    { sign: maths('f'), meaning: 'live weight over the weight of a form' },
    { sign: maths('w'), meaning: 'weight of the club\'s own batches, 0 to 1' },
    { sign: maths('n'), meaning: 'batches of your own that count' },
    { sign: maths('s^2'), meaning: 'how much one batch differs from the next' },
    { sign: maths('v'), meaning: 'half of the published range\'s variance' },
  ],
  figures: [
    { what: 'Factors for gutted, headed and filleted fish', source: 'EU regulation 404/2011, annex XIII; FAO CWP', certainty: 'published' },
    { what: 'All the flesh of a whole fish, the upper bound', source: 'FAO FTP 309', certainty: 'published' },
    { what: 'Weight change in brine and dry cure; 7 to 20 % lost in smoking', source: 'Usual values', certainty: 'from memory' },
    { what: '5 % either way where a single factor is published', source: 'A choice of this service', certainty: 'common practice' },
    { what: 'Shrinkage toward the published figure', source: 'Standard method', certainty: 'arithmetic' },
  ],
  range: { holds: 'Species of the tables; brine of 0 to 26.4 %; weights in whole grams. The interval is two standard deviations: about one batch in twenty falls outside.', outside: 'Where nothing is published it says so, until three batches of your own tell.' },
  checks,
  limits: ['How it is cut decides more than the species does.', 'A batch far from the others is left out and named.', 'A weight outside the interval is asked about when it is entered, never refused.'],
  never: 'It is for planning and for finding slips of the scale. The scale decides.',
};
