import { describe, expect, it } from 'vitest';
import { RULES } from '../../server/domain/rules/registry.ts';
import { temperaturesInProse } from '../../server/domain/units.ts';
import { batch, every5, judged, log } from '../support/rule-evidence.ts';

describe('the temperatures in the sentences of rules', () => {
  // The Fahrenheit figures of the rules themselves: 145 F (MI569.7), 38 F (NY262), 70, 41 and 135 F (FC 3-501.14), 165 F (CDC 2014), 200 to 225 F (OSU and WSU extension).
  it.each([
    ['at least 62.8 C for 30 minutes', 'at least 62.8 °C for 30 minutes', 'at least 145 °F for 30 minutes'],
    ['57 C to 21 C within 2 h', '57 °C to 21 °C within 2 h', '134.6 °F to 69.8 °F within 2 h'],
    ['the air at 93 to 107 C at the end.', 'the air at 93 to 107 °C at the end.', 'the air at 199.4 to 224.6 °F at the end.'],
    ['at most 3.34 C, place at 3.3 C or below', 'at most 3.34 °C, place at 3.3 °C or below', 'at most 38.01 °F, place at 38 °F or below'],
    ['core at most 62.76 C', 'core at most 62.76 °C', 'core at most 144.97 °F'],
    ['between 45 and 65 C', 'between 45 and 65 °C', 'between 113 and 149 °F'],
    ['cooked again to 74 C (165 F)', 'cooked again to 74 °C', 'cooked again to 165 °F'],
    ['-20 C for 168 hours, or -35 C', '-20 °C for 168 hours, or -35 °C', '-4 °F for 168 hours, or -31 °F'],
    ['lot 9C4-76CF: 3 of 5 Cures, 2 kg', 'lot 9C4-76CF: 3 of 5 Cures, 2 kg', 'lot 9C4-76CF: 3 of 5 Cures, 2 kg'],
    ['62.8 °C (145 °F)', '62.8 °C (145 °F)', '62.8 °C (145 °F)'],
  ])('%s', (text, celsius, fahrenheit) => expect([temperaturesInProse(text, 'C'), temperaturesInProse(text, 'F')]).toEqual([celsius, fahrenheit]));

  it('leave no bare C behind in any rule or finding, and are never differences', () => {
    const readings = [log(every5([-240, 10], [-60, 61], [0, 61], [20, 57], [200, 20], [500, 4])), log([[-700, 5]], { place: 'storage', stageId: null })];
    const found = judged(batch({ maxCoreC: 61 }, { readings })).checks.flatMap((c) => [c.title, c.found, c.limit, c.whatToDo]);
    const texts = [...RULES.flatMap((r) => [r.title, r.words ?? '', r.whatToDo, r.evidence]), ...found];
    expect(texts.filter((t) => / C\b/.test(t)).length).toBeGreaterThan(20);
    expect(texts.filter((t) => /\d C\b/.test(temperaturesInProse(t, 'F')))).toEqual([]);
    expect(texts.filter((t) => /\d C\b (warmer|colder|more|less|higher|lower|apart)/.test(t) && !/\d C or (more|less)/.test(t))).toEqual([]);
  });
});
