/** Longest cumulative exposure by organism and temperature (tables/cumulative-exposure.csv). A band without an end is open upward. */
export type Band = { organism: string; fromC: number; toC: number | null; maxHours: number };

const band = (organism: string, fromC: number, toC: number | null, maxHours: number): Band => ({ organism, fromC, toC, maxHours });

export const BANDS: readonly Band[] = [
  /* @__PURE__ */ band('C. botulinum E and non-proteolytic B F', 3.3, 5, 168),
  /* @__PURE__ */ band('C. botulinum E and non-proteolytic B F', 6, 10, 48),
  /* @__PURE__ */ band('C. botulinum E and non-proteolytic B F', 11, 21, 11),
  /* @__PURE__ */ band('C. botulinum E and non-proteolytic B F', 21, null, 6),
  /* @__PURE__ */ band('C. botulinum A and proteolytic B F', 10, 21, 11),
  /* @__PURE__ */ band('C. botulinum A and proteolytic B F', 21, null, 2),
  /* @__PURE__ */ band('Listeria monocytogenes', -0.4, 5, 168),
  /* @__PURE__ */ band('Listeria monocytogenes', 6, 10, 24),
  /* @__PURE__ */ band('Listeria monocytogenes', 11, 21, 7),
  /* @__PURE__ */ band('Listeria monocytogenes', 22, 30, 3),
  /* @__PURE__ */ band('Listeria monocytogenes', 30, null, 1),
  /* @__PURE__ */ band('Salmonella', 5.2, 10, 48),
  /* @__PURE__ */ band('Salmonella', 11, 21, 5),
  /* @__PURE__ */ band('Salmonella', 21, null, 2),
  /* @__PURE__ */ band('Staphylococcus aureus', 10, 21, 12),
  /* @__PURE__ */ band('Staphylococcus aureus', 21, null, 3),
  /* @__PURE__ */ band('Clostridium perfringens', 14, 21, 6),
  /* @__PURE__ */ band('Clostridium perfringens', 21, null, 2),
  /* @__PURE__ */ band('Bacillus cereus', 4, 6, 120),
  /* @__PURE__ */ band('Bacillus cereus', 7, 15, 24),
  /* @__PURE__ */ band('Bacillus cereus', 16, 21, 6),
  /* @__PURE__ */ band('Bacillus cereus', 21, null, 3),
];

export const ORGANISMS: readonly string[] = /* @__PURE__ */ [...new Set(BANDS.map(({ organism }) => organism))];
