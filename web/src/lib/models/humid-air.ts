import { humidAir } from '$domain/heat/humid-air.ts';
import { exp, frac, group, maths } from './maths.ts';
import { own } from './own/humid-air.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const wet = (airC: number, relativeHumidityPct: number, published: number): ModelCheck => ({ what: `Wet-bulb at ${airC} °C and ${relativeHumidityPct} %`, source: 'psychrometer equation, computed', published, found: humidAir({ airC, relativeHumidityPct }).wetBulbC, unit: '°C', within: 0.02 });
  return [wet(50, 30, 32.46), wet(70, 20, 41.82), wet(80, 20, 48.71), wet(80, 40, 60.36)];
}

export const page: ModelPage = {
  slug: 'humid-air',
  purpose: 'Tells how cool a wet fish stays in hot smoker air: the temperature where the core stands still while it dries.',
  own,
  equations: [
    { maths: maths('e =', '0.61121', exp(group('18.678 −', frac('T', '234.5')), frac('T', '257.14 + T'))), words: 'How much vapour air can hold at a temperature (Buck).' },
    { maths: maths('e ( T_w ) − e_air = 0.000662 P ( T_air − T_w )'), words: 'At the wet-bulb the heat that comes from the air is just what the evaporating water takes.' },
  ],
  symbols: [
    { sign: maths('e'), meaning: 'pressure of saturated vapour', unit: 'kPa' },
    { sign: maths('e_air'), meaning: 'pressure of the vapour that is there: humidity times saturation', unit: 'kPa' },
    { sign: maths('T_w'), meaning: 'wet-bulb temperature', unit: '°C' },
    { sign: maths('T_air'), meaning: 'air of the smoker', unit: '°C' },
    { sign: maths('P'), meaning: 'air pressure, 101.3 at sea level', unit: 'kPa' },
  ],
  figures: [
    { what: 'Saturation of vapour', source: 'Buck', certainty: 'published' },
    { what: '0.000662 for a ventilated wet bulb', source: 'Psychrometer constant', certainty: 'from memory' },
  ],
  range: { holds: 'Air of −1 to 121 °C and 0 to 100 % humidity, as long as it stays more air than steam.', outside: 'Hot air that moist is refused: a smoker that hot is dry.' },
  checks,
  limits: ['Half a degree in well-stirred air, more in still air.', 'Salt and a dry skin on the fish raise the temperature where it settles.', 'Few smokers measure humidity: it is fitted from the smoker\'s own logs, or guessed within a band.'],
  never: 'A core that stands still is not done. Only the logged core counts.',
};
