/** How fish was cured, as a form has it. */
import type { Stage } from '$contract/batches.ts';
import type { CureFactsBody } from '$contract/cures.ts';

/** Another ingredient as it is typed; a line with neither name nor weight is none. */
export interface OtherLine {
  key: number;
  name: string;
  grams: number | null;
}

export interface CureFormValues {
  method: CureFactsBody['method'];
  saltKind: string;
  saltGrams: number | null;
  sugarKind: string;
  sugarGrams: number | null;
  waterGrams: number | null;
  brinePercent: number | null;
  thicknessMm: number | null;
  skin: boolean;
  temperatureC: number | null;
  onceFrozen: boolean;
  fat: CureFactsBody['fat'] | '';
  others: OtherLine[];
  reason: string;
}

export const blankCure: CureFormValues = {
  method: 'dry', saltKind: '', saltGrams: null, sugarKind: '', sugarGrams: null, waterGrams: null, brinePercent: null, thicknessMm: null, skin: true, temperatureC: null, onceFrozen: false, fat: '', others: [], reason: '',
};

let keys = 0;
export const newOther = (name = '', grams: number | null = null): OtherLine => ({ key: keys++, name, grams });
/** The lines that are sent, in their order: an error's number is of these. */
export const typedOthers = (lines: readonly OtherLine[]): OtherLine[] => lines.filter(({ name, grams }) => name.trim() !== '' || grams !== null);

export function cureForm(cure: Stage['cure']): Partial<CureFormValues> {
  if (cure === null) return {};
  const { createdBy: _by, version: _version, ...facts } = cure;
  return { ...facts, saltKind: facts.saltKind ?? '', sugarKind: facts.sugarKind ?? '', sugarGrams: facts.sugarGrams || null, others: facts.others.map(({ name, grams }) => newOther(name, grams)) };
}

/** What is sent; what a method has no place for is left out. */
export const cureBody = (v: CureFormValues, version: number): unknown => ({
  ...v, version, others: typedOthers(v.others).map(({ name, grams }) => ({ name: name.trim(), grams: grams ?? undefined })), saltKind: v.saltKind || null, sugarKind: v.sugarKind || null, sugarGrams: v.sugarGrams ?? 0, fat: v.fat || undefined,
  waterGrams: v.method === 'dry' ? null : v.waterGrams, brinePercent: v.method === 'brine' ? v.brinePercent : null, thicknessMm: v.thicknessMm ?? undefined, temperatureC: v.temperatureC ?? undefined,
});
