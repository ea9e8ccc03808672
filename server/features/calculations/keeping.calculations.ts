import * as c from '../../contract/calculations/keeping.ts';
import { keepingTime, listeriaGrowthAt, warmSpellCost } from '../../domain/spoilage-rate.ts';
import { spoilageUsed } from '../../domain/spoilage.ts';
import { calculation } from './calculation.ts';

export const keepingCalculations = [
  calculation({ name: 'days-used', summary: 'Days on ice used up, from a storage log', body: c.daysUsedBody, answer: c.daysUsedAnswer, reckon: spoilageUsed }),
  calculation({ name: 'keeping-time', summary: 'How long iced fish keeps at another temperature', body: c.keepingTimeBody, answer: c.keepingTimeAnswer, reckon: keepingTime }),
  calculation({ name: 'warm-spell', summary: 'What some warm hours cost in days', body: c.warmSpellBody, answer: c.warmSpellAnswer, reckon: warmSpellCost }),
  calculation({ name: 'listeria-growth', summary: 'How fast Listeria grows at another temperature', body: c.listeriaGrowthBody, answer: c.listeriaGrowthAnswer, reckon: listeriaGrowthAt }),
];
