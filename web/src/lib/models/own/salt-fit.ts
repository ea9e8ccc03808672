import { rounded } from '$domain/bounds.ts';
import { refitDiffusivity } from '$domain/salt/refit.ts';
import { DomainError } from '$domain/working.ts';
import { showNumber } from '../../show.ts';
import { choice, lines, part } from './part.ts';
import { diffusivity, faces, fatWords, isOfLine, rowsOf, yesNo } from './words.ts';

const START = ['20 12 15 2.6', '20 24 15 3.6', '25 24 15 3.0'].join('\n');

export const own = [
  part({
    title: 'Fit it to your own figures',
    calculations: ['salt-refit'],
    fields: {
      figures: lines('Figures after the cure', START, { hint: 'On each line: thickness in mm, hours in the cure, brine in %, salt measured in %', lines: 6 }),
      fat: choice('The fish is', fatWords, 'fatty'), openFaces: choice('The pieces', faces, '1'),
      cold: choice('Where it stood', { '0': '0 °C (32 °F)', '3': '3 °C (37 °F)', '5': '5 °C (41 °F)', '10': '10 °C (50 °F)' }, '3'), onceFrozen: choice('Frozen before', yesNo, 'no'),
    },
    fieldFor: (field) => (isOfLine(field) || field === 'measurements' || /Percent$|Mm$|minutes/.test(field) ? 'figures' : field),
    reckon: (v) => {
      const rows = rowsOf(v.figures, 'figures', 'a thickness, hours, brine and measured salt', 4);
      if (rows.length === 0) throw new DomainError({ code: 'own.line', field: 'figures', label: 'figures', value: v.figures, problem: 'has no line', remedy: 'write one figure on each line' });
      const fit = refitDiffusivity({
        fat: v.fat,
        measurements: rows.map(([thicknessMm, hours, brinePercent, measuredPercent]) => ({ thicknessMm: thicknessMm!, minutes: hours! * 60, brinePercent: brinePercent!, measuredPercent: measuredPercent!, temperatureC: Number(v.cold), openFaces: v.openFaces === '1' ? 1 : 2, onceFrozen: v.onceFrozen === 'yes' })),
      });
      const { working } = fit;
      return {
        says: `From ${fit.measurements} ${fit.measurements === 1 ? 'figure' : 'figures'}: ${fit.m2PerSAt5C > fit.startM2PerSAt5C ? 'salt goes in faster' : 'salt goes in slower'} than the usual value says.`,
        rows: [
          { label: 'Diffusivity at 5 °C', value: diffusivity(fit.m2PerSAt5C), exact: fit.m2PerSAt5C, band: `${diffusivity(fit.m2PerSAt5C / fit.bandFactor)} to ${diffusivity(fit.m2PerSAt5C * fit.bandFactor)}`, working },
          { label: 'The usual value', value: diffusivity(fit.startM2PerSAt5C), exact: fit.startM2PerSAt5C, band: 'half to twice that' },
          { label: 'Its band: so many times less or more', value: fit.bandFactor.toFixed(2), exact: fit.bandFactor, working },
          { label: 'Each figure off by, in its own spread', value: fit.residuals.map((r) => showNumber(rounded(r, 1))).join(', ') },
        ],
        cautions: [...fit.notes.map((text) => ({ level: 'mind' as const, text })), { level: 'note', text: 'A try: nothing is kept, and plans go on with the club’s own fit.' }],
      };
    },
  }),
];
