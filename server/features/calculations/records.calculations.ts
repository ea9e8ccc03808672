import * as c from '../../contract/calculations/records.ts';
import { groupPieces } from '../../domain/cure/thickness-groups.ts';
import { useBy } from '../../domain/dates.ts';
import { estimateGrams } from '../../domain/length-weight.ts';
import { shareOut } from '../../domain/share.ts';
import { calculation } from './calculation.ts';

export const recordCalculations = [
  calculation({ name: 'last-day', summary: 'The last day of a pack, its words and its reasons', body: c.lastDayBody, answer: c.lastDayAnswer, reckon: useBy }),
  calculation({
    name: 'length-weight', summary: 'The weight of whole fish from their lengths', body: c.lengthWeightBody, answer: c.lengthWeightAnswer,
    reckon: ({ speciesCode, lengthsCm, lengthKind }) => estimateGrams(speciesCode, lengthsCm, lengthKind),
  }),
  calculation({ name: 'cure-groups', summary: 'Pieces sorted into groups by thickness, each with its clock', body: c.cureGroupsBody, answer: c.cureGroupsAnswer, reckon: groupPieces }),
  calculation({ name: 'share-out', summary: 'A whole number divided by shares, with what each is due', body: c.shareOutBody, answer: c.shareOutAnswer, reckon: shareOut }),
];
