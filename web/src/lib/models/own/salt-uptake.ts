import { putTooSaltyRight } from '$domain/cure/too-salty.ts';
import { saltCourse } from '$domain/salt/course.ts';
import { saltAfterDrying } from '$domain/salt/drying.ts';
import { equaliseSalt, freshenSalt, type Spread } from '$domain/salt/equalise.ts';
import { timeToSalt } from '$domain/salt/time-to-salt.ts';
import { saltUptake } from '$domain/salt/uptake.ts';
import type { FatClass } from '$domain/species/index.ts';
import { showNumber } from '../../show.ts';
import { choice, maybe, number, part, type OwnCaution, type OwnPlot, type OwnRow } from './part.ts';
import { axis, diffusivity, faces, fatWords, minutes, percent, percentBand, yesNo } from './words.ts';

const PREDICTED: OwnCaution = { level: 'mind', text: 'Reckoned within a wide band. It never stands in for a laboratory’s figure.' };

const cure = {
  brinePercent: number('Brine', 15, { unit: '%', slide: [1, 26, 0.5], hint: 'By weight. Dry salt that has not run out: 26.4 %' }),
  thicknessMm: number('Thickness', 20, { kind: 'thickness', slide: [5, 60, 1], hint: 'At the thickest place' }),
  openFaces: choice('The piece', faces, '1'),
  fat: choice('The fish is', fatWords, 'fatty'),
  temperatureC: number('Where it stands', 3, { kind: 'temperature', slide: [-1, 10, 0.5] }),
  onceFrozen: choice('Frozen before', yesNo, 'no'),
};
const hours = (start: number) => number('In the cure', start, { unit: 'h', slide: [0.5, 48, 0.5] });

type Asked = { brinePercent: number; thicknessMm: number; openFaces: '1' | '2'; fat: FatClass; temperatureC: number; onceFrozen: 'yes' | 'no' };
const conditions = (v: Asked) => ({ brinePercent: v.brinePercent, thicknessMm: v.thicknessMm, openFaces: v.openFaces === '1' ? (1 as const) : (2 as const), fat: v.fat, temperatureC: v.temperatureC, onceFrozen: v.onceFrozen === 'yes' });
/** The domain names both temperatures alike: the cure's is at fault where it is out of its own range. */
const coldOf = (v: { temperatureC: number }, other: string): string => (v.temperatureC >= -2 && v.temperatureC <= 25 ? other : 'temperatureC');
const fieldFor = (field: string): string => (field === 'minutes' || field === 'untilMinutes' ? 'hours' : field);

const uptake = part({
  title: 'Salt through the cure and the drying',
  calculations: ['salt-uptake', 'salt-course', 'salt-diffusivity'],
  fields: {
    ...cure, hours: hours(12),
    keptPercent: maybe('Weight kept in drying and smoking', { unit: '%', start: 85, hint: 'Empty: the cure alone' }),
    curedWaterPercent: number('Water after the cure', 65, { unit: '%', slide: [40, 85, 0.5], hint: 'Mackerel about 62, cod about 80', when: (v) => v['keptPercent'] !== null }),
  },
  fieldFor,
  reckon: (v) => {
    const input = { ...conditions(v), minutes: v.hours * 60 };
    const u = saltUptake(input);
    const course = saltCourse({ ...input, untilMinutes: Math.max(60, v.hours * 60 * 1.5) });
    const dried = (curedPercent: number) => saltAfterDrying({ curedPercent, curedWaterPercent: v.curedWaterPercent, keptPercent: v.keptPercent! });
    const d = v.keptPercent === null ? null : dried(u.meanPercent);
    const rows: OwnRow[] = [
      { label: 'Salt after the cure', value: percent(u.meanPercent), exact: u.meanPercent, band: percentBand(u.meanLowPercent, u.meanHighPercent), working: u.working },
      ...(d === null ? [] : [{ label: 'Salt after drying and smoking', value: percent(d.waterPhaseSaltPercent), exact: d.waterPhaseSaltPercent, band: percentBand(dried(u.meanLowPercent).waterPhaseSaltPercent, dried(u.meanHighPercent).waterPhaseSaltPercent), working: d.working }]),
      { label: v.openFaces === '1' ? 'Against the skin, after the cure' : 'In the middle, after the cure', value: percent(u.centrePercent), exact: u.centrePercent, band: percentBand(u.centreLowPercent, u.centreHighPercent), working: u.working },
      { label: 'Left in it for days', value: percent(u.equilibriumPercent), exact: u.equilibriumPercent, working: u.working },
      { label: 'Diffusivity', value: diffusivity(u.diffusivity.m2PerS), exact: u.diffusivity.m2PerS, working: u.diffusivity.working },
    ];
    const plot: OwnPlot = {
      says: `After ${showNumber(v.hours, 1)} h in the cure the piece holds ${percent(u.meanPercent, 1)} salt, likely ${percentBand(u.meanLowPercent, u.meanHighPercent, 1)}${d === null ? '' : `; dried and smoked, ${percent(d.waterPhaseSaltPercent, 1)}`}.`,
      x: { ...axis('Time in the cure', 'h'), fromZero: true }, y: { ...axis('Water-phase salt', '%'), fromZero: true },
      series: [
        { name: 'Whole piece', tone: 'tide', predicted: true, points: course.points.map((p) => ({ x: p.minutes / 60, y: p.meanPercent, low: p.lowPercent, high: p.highPercent })) },
        { name: v.openFaces === '1' ? 'At the skin' : 'Middle', tone: 'ink', predicted: true, points: course.points.map((p) => ({ x: p.minutes / 60, y: p.centrePercent })) },
      ],
      moments: [{ at: v.hours, name: 'taken out' }],
      ...(d === null ? {} : { levels: [{ at: d.waterPhaseSaltPercent, name: 'after drying and smoking' }] }),
    };
    return { rows, plot, cautions: [PREDICTED] };
  },
});

const time = part({
  title: 'How long until it has enough?',
  calculations: ['salt-time'],
  fields: { ...cure, targetPercent: number('Salt to aim for', 3.5, { unit: '%', slide: [1, 8, 0.1], hint: 'In the water of the fish' }) },
  reckon: (v) => {
    const t = timeToSalt({ ...conditions(v), targetPercent: v.targetPercent });
    if (!t.reachable) return { says: t.reason, rows: [{ label: 'Time in the cure', value: 'never', exact: null, working: t.working }] };
    return {
      rows: [
        { label: 'Time in the cure', value: minutes(t.minutes!), exact: t.minutes, band: `${minutes(t.earliestMinutes!)} to ${minutes(t.latestMinutes!)}`, working: t.working },
        { label: 'Half an hour less makes', value: percent(t.halfHourLessPercent!), exact: t.halfHourLessPercent }, { label: 'Half an hour more makes', value: percent(t.halfHourMorePercent!), exact: t.halfHourMorePercent },
      ],
      cautions: [PREDICTED],
    };
  },
});

/** Salt over the depth, after something was done to it. */
function spreadAnswer(s: Spread, first: string, says: string) {
  return {
    rows: [
      { label: first, value: percent(s.meanPercent), exact: s.meanPercent, band: percentBand(s.meanLowPercent, s.meanHighPercent), working: s.working },
      { label: 'Inmost', value: percent(s.centrePercent), exact: s.centrePercent, working: s.working }, { label: 'At the surface', value: percent(s.surfacePercent), exact: s.surfacePercent, working: s.working },
    ],
    plot: {
      says, x: { ...axis('Depth from the surface', 'mm', 0), fromZero: true }, y: { ...axis('Water-phase salt', '%'), fromZero: true },
      series: [{ name: 'Salt', tone: 'tide' as const, predicted: true, points: s.profile.map((p) => ({ x: p.depthMm, y: p.percent })) }],
    },
    cautions: [PREDICTED],
  };
}

const even = part({
  title: 'Rinsed and left to even out',
  calculations: ['salt-equalise'],
  fields: { ...cure, hours: hours(6), restHours: number('Rest', 12, { unit: 'h', slide: [0, 72, 1] }), restTemperatureC: number('Rest at', 3, { kind: 'temperature', slide: [-1, 10, 0.5] }) },
  fieldFor: (field, v) => (field === 'restMinutes' ? 'restHours' : field === 'temperatureC' ? coldOf(v, 'restTemperatureC') : fieldFor(field)),
  reckon: (v) => {
    const s = equaliseSalt({ ...conditions(v), minutes: v.hours * 60, restMinutes: v.restHours * 60, restTemperatureC: v.restTemperatureC });
    return spreadAnswer(s, 'Salt in the whole piece', `After ${showNumber(v.restHours, 1)} h of rest: ${percent(s.surfacePercent, 1)} at the surface, ${percent(s.centrePercent, 1)} inmost.`);
  },
});

const freshen = part({
  title: 'Laid in fresh water',
  calculations: ['salt-freshen'],
  fields: { ...cure, hours: hours(24), waterMinutes: number('In fresh water', 60, { unit: 'min', slide: [0, 600, 5] }), waterTemperatureC: number('Water at', 3, { kind: 'temperature', slide: [0, 10, 0.5] }) },
  fieldFor: (field, v) => (field === 'temperatureC' ? coldOf(v, 'waterTemperatureC') : fieldFor(field)),
  reckon: (v) => {
    const s = freshenSalt({ ...conditions(v), minutes: v.hours * 60, waterMinutes: v.waterMinutes, waterTemperatureC: v.waterTemperatureC });
    return spreadAnswer(s, 'Salt left', `After ${showNumber(v.waterMinutes, 0)} minutes in fresh water: ${percent(s.surfacePercent, 1)} at the surface, ${percent(s.centrePercent, 1)} inmost.`);
  },
});

const tooSalty = part({
  title: 'Too salty: how long in fresh water?',
  calculations: ['cure-too-salty'],
  fields: {
    ...cure, hours: hours(36), targetPercent: number('Salt wanted', 3, { unit: '%', slide: [1, 8, 0.1] }), waterTemperatureC: number('Water at', 3, { kind: 'temperature', slide: [0, 10, 0.5] }),
    nowPercent: maybe('Salt now', { unit: '%', hint: 'If somebody measured it' }),
  },
  fieldFor,
  reckon: ({ nowPercent, ...v }) => {
    const r = putTooSaltyRight({ ...conditions(v), minutes: v.hours * 60, targetPercent: v.targetPercent, waterTemperatureC: v.waterTemperatureC, ...(nowPercent !== null && { nowPercent }) });
    return {
      rows: [
        { label: 'In fresh water', value: r.waterMinutes === null ? 'more than a day' : r.waterMinutes === 0 ? 'not needed' : minutes(r.waterMinutes), exact: r.waterMinutes, working: r.working },
        { label: 'Salt now', value: percent(r.nowPercent), exact: r.nowPercent, working: r.working },
        ...(r.afterPercent === null ? [] : [{ label: 'Salt after it', value: percent(r.afterPercent), exact: r.afterPercent, band: percentBand(r.afterLowPercent!, r.afterHighPercent!), working: r.working }]),
      ],
      ...(r.course.length > 1 && {
        plot: {
          says: r.waterMinutes === null ? 'A day in fresh water would not be enough.' : `It comes down to ${percent(v.targetPercent, 1)} in ${minutes(r.waterMinutes)}.`, x: { ...axis('In fresh water', 'min', 0), fromZero: true }, y: { ...axis('Water-phase salt', '%'), fromZero: true },
          series: [{ name: 'Salt', tone: 'tide' as const, predicted: true, points: r.course.map((p) => ({ x: p.minutes, y: p.meanPercent })) }], levels: [{ at: v.targetPercent, name: 'wanted' }],
        },
      }),
      cautions: r.steps.map((text) => ({ level: 'note' as const, text })),
    };
  },
});

export const own = [uptake, time, even, freshen, tooSalty];
