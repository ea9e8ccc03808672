import { expect, test } from 'vitest';
import type { Species } from '../../server/contract/catch.ts';
import { histamineOf, histamineValue, speciesDetail } from '../../web/src/lib/fish/species-words.ts';

const own: Species = { code: 'own-garfish', name: 'Garfish', scientificName: '', own: true, scombrotoxin: null, scombrotoxinSource: '', sharing: 'ok', maxFishGrams: 2000, hasLengthWeight: false, version: 1 };

test('a species of which nothing is known says that it is treated as the strictest', () => {
  expect(speciesDetail(own, (grams) => `${grams} g`)).toBe('at most 2000 g each · histamine not known, treated as yes');
  expect(speciesDetail({ ...own, scientificName: 'Belone belone', scombrotoxin: false, scombrotoxinSource: 'Harbour Laboratory', hasLengthWeight: true }, () => '2 kg')).toBe('Belone belone · at most 2 kg each · forms no histamine, by Harbour Laboratory · weight from lengths');
});

test('an answer about histamine is kept as it was given', () => {
  for (const scombrotoxin of [null, true, false]) expect(histamineValue[histamineOf({ scombrotoxin })]).toBe(scombrotoxin);
});
