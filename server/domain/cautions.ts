/** A plain sentence that goes with a verdict, and where it comes from. */
export type Caution = { id: string; text: string; source: string };

/** Shown with every verdict. */
export const CAUTIONS: readonly Caution[] = [
  { id: 'local-code', text: 'Follow your local code.', source: 'standing caution of this service' },
  { id: 'sale', text: 'A licensed processor or your health department decides for anything sold.', source: 'standing caution of this service' },
  { id: 'not-approval', text: 'This is a record and a calculator, not an approval.', source: 'standing caution of this service' },
  {
    id: 'people.listeria',
    text: 'Pregnant, over 65 or with weak immunity: no refrigerated smoked fish or spread unless cooked again to 74 C (165 F).',
    source: 'CDC 2014',
  },
  {
    id: 'chill.no-rescue',
    text: 'Histamine survives washing, freezing, smoking and cooking: fish that was chilled too late cannot be saved later.',
    source: 'FDA, November 2024',
  },
];
