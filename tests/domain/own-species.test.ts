import { describe, expect, it } from 'vitest';
import { SPECIES } from '../../server/domain/species/index.ts';
import { formerWord, formsHistamine, refusedWord } from '../../server/domain/species/own-names.ts';
import { table } from '../support/table.ts';

describe('what a name of the club’s own gives away (tables/hazards.csv; HG ch. 3 and 7)', () => {
  it('every fish that the hazards table has as forming histamine is known by its name, its plural and in capitals', () => {
    for (const [group] of table('hazards').filter((row) => row[2] === 'yes')) {
      for (const name of group!.split(/;| and /).map((part) => part.replace(/\(.*\)/, '').trim())) {
        for (const written of [name, name.toUpperCase(), `${name.replace(/s$/, '')}s`, `Our ${name} (small)`]) expect(formerWord(written) ?? refusedWord(written), written).not.toBeNull();
      }
    }
  });

  it('every species of the tables that forms histamine by a source is known by any of its names, the scientific one too', () => {
    for (const species of SPECIES.filter((s) => s.scombrotoxin && s.hazardSource !== 'from memory' && s.sharing === 'ok')) {
      for (const name of [species.name, ...species.alsoCalled, species.scientificName].filter(Boolean)) expect(formerWord(name), name).not.toBeNull();
    }
  });

  it.each(['Skipjack', 'Our yellowfin tuna', 'Mackerel (small)', 'MACKERELS', 'mackeral', 'Mackrel', 'Màckérel', 'M a c k e r e l', 'Мackerel', 'M4ckerel', 'Bluetuna', 'Thon rouge', 'Atún', 'Makrele', 'Makrell', 'Sild', 'Sardines', 'Katsuwonus pelamis', 'Scomber sp.', 'Thunnus', 'Auxis thazard', 'Sprats', 'Anchovies', 'Jacks', 'Dolphin-fish', 'Ma\u00adckerel'])(
    '"%s" forms histamine whatever is said', (name) => {
      expect(formerWord(name)).not.toBeNull();
      expect(formsHistamine({ own: true, scombrotoxin: false, scombrotoxinSource: 'Somebody', name, scientificName: '' })).toBe(true);
      expect(formsHistamine({ own: true, scombrotoxin: false, scombrotoxinSource: 'Somebody', name: 'Blue wrasse', scientificName: name })).toBe(true);
    });

  it.each(['Fugu pufferfish', 'Puffers', 'PUFFER FISH', 'Escolár', 'Oil-fish', 'Ruvettus pretiosus', 'Lagocephalus sceleratus', 'Blow fish', 'Fügu', 'Oilfishes'])('"%s" is never for sharing', (name) => {
    expect(refusedWord(name)).not.toBeNull();
  });

  it.each(['Blue wrasse', 'Lumpsucker', 'Grey gurnard', 'Pollack', 'Wolffish', 'Sea trout', 'Треска', 'Bérgylt', 'Black sea bream', 'Atlantic cod', 'Arctic char', 'Whiting', 'Smelt', 'Ling', 'Tusk'])('"%s" gives nothing away', (name) => {
    expect([formerWord(name), refusedWord(name)]).toEqual([null, null]);
  });

  it('no species of the tables that forms none is taken for one that does', () => {
    for (const species of SPECIES.filter((s) => !s.scombrotoxin && s.sharing === 'ok')) expect([formerWord(species.name, species.scientificName), refusedWord(species.name, species.scientificName)], species.name).toEqual([null, null]);
  });

  it('forms histamine until a source says no', () => {
    const plain = { own: true, name: 'Blue wrasse', scientificName: '' };
    for (const scombrotoxin of [null, true]) expect(formsHistamine({ ...plain, scombrotoxin, scombrotoxinSource: 'Laboratory' })).toBe(true);
    expect(formsHistamine({ ...plain, scombrotoxin: false, scombrotoxinSource: ' ' })).toBe(true);
    expect(formsHistamine({ ...plain, scombrotoxin: false, scombrotoxinSource: 'Laboratory' })).toBe(false);
  });
});
