import { DomainError } from '../working.ts';

/** The fields in a person's words, where they differ from their names. */
const FIELD_WORDS: Record<string, string> = {
  pageWidthMm: 'page width (mm)',
  pageHeightMm: 'page height (mm)',
  labelWidthMm: 'label width (mm)',
  labelHeightMm: 'label height (mm)',
  marginTopMm: 'top margin (mm)',
  marginLeftMm: 'left margin (mm)',
  pitchXMm: 'pitch across (mm)',
  pitchYMm: 'pitch down (mm)',
  cornerMm: 'corner radius (mm)',
  startAt: 'start position',
  count: 'number of labels',
  url: 'public address',
  storageWords: 'storage words',
  netGrams: 'net weight (g)',
  packNo: 'pack number',
};

/** An error about labels: the field and its value, what is wrong with it, and what to do. */
export function labelError(field: string, value: unknown, problem: string, remedy: string): DomainError {
  return new DomainError({ code: 'label.invalid', field, value, problem, remedy, label: FIELD_WORDS[field] ?? field });
}
