import { histamineLine } from '$domain/boat/histamine.ts';
import { choice, maybe, number, part } from './part.ts';
import { speciesWith } from './words.ts';

const words = { 'met': 'Cold in time', 'not-met': 'Too warm', 'not-recorded': 'Not shown' } as const;
const HOUR_MS = 3_600_000;

export const own = [
  part({
    title: 'Was it chilled soon enough?',
    calculations: ['histamine-line'],
    fields: {
      speciesCode: choice('Fish', speciesWith((s) => s.scombrotoxin), 'atlantic-mackerel'),
      icedAfterH: number('From death to ice', 2, { unit: 'h', slide: [0, 15, 0.5], hint: 'When nobody knows: from lines out' }), medium: choice('Chilled in', { ice: 'Ice', slurry: 'Slurry or cold sea water' }, 'ice'),
      mediumC: maybe('Slurry at', { kind: 'temperature', when: (v) => v['medium'] === 'slurry' }),
      maxAirC: maybe('Hottest air', { kind: 'temperature', start: 20, hint: 'Empty counts as hot' }), maxWaterC: maybe('Hottest water', { kind: 'temperature', start: 15, hint: 'Empty counts as hot' }),
      landedAfterH: number('From death to landing', 10, { unit: 'h', slide: [0, 36, 0.5] }), landingCoreC: maybe('Core at landing', { kind: 'temperature', start: 3 }),
    },
    fieldFor: (field) => (field === 'icedAt' ? 'icedAfterH' : field === 'landedAt' ? 'landedAfterH' : field),
    reckon: (v, { now }) => {
      const death = now.getTime() - 48 * HOUR_MS;
      const at = (hours: number) => new Date(death + hours * HOUR_MS);
      const h = histamineLine({ speciesCode: v.speciesCode, deathAt: at(0), icedAt: at(v.icedAfterH), landedAt: at(v.landedAfterH), medium: v.medium, mediumC: v.medium === 'slurry' ? v.mediumC : null, maxAirC: v.maxAirC, maxWaterC: v.maxWaterC, landingCoreC: v.landingCoreC });
      return {
        ...(h.noRescue && { says: h.noRescue }),
        rows: [{ label: 'From catch to landing', value: words[h.state], exact: h.state, state: h.state, working: h.working }, ...h.checks.map((c) => ({ label: c.ruleId === 'chill.internal' ? 'Core at landing' : 'Into ice or slurry', value: c.found, exact: c.state, state: c.state, working: h.working }))],
        cautions: [...h.reasons.map((text) => ({ level: 'note' as const, text })), ...h.checks.filter((c) => c.whatToDo !== '').map((c) => ({ level: c.state === 'not-met' ? ('stop' as const) : ('mind' as const), text: c.whatToDo })), ...(h.applies ? [] : [{ level: 'note' as const, text: 'This species forms no histamine: it is advice on quality.' }])],
      };
    },
  }),
];
