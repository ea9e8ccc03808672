import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../server/domain/rules/registry.ts';
import { SOURCES, sourceInWords, sourceWithCertainty } from '../../server/domain/sources.ts';

const domain = new URL('../../server/domain', import.meta.url).pathname;
const models = new URL('../../web/src/lib/models', import.meta.url).pathname;
/** Every text that stands as a source in the code, whether it is reached by a test or not. */
const written = [domain, models].flatMap((folder) => readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts') && name !== 'sources.ts').flatMap((name) => {
  const code = readFileSync(join(folder, name), 'utf8');
  return [...code.matchAll(/(?:\bsource: |const (?:\w*SOURCE\w*|GUIDANCE|NY_MI|TABLE|SR27|FTP309|FAO|LISTERIA|BOTULINUM|SERIES|PAIRS) = )(['`])((?:(?!\1).)*)\1/g)].map((match) => match[2]!.replace(/\$\{[^}]*\}/g, 'x'));
}));

describe('sources in words', () => {
  it('say who published it, what and when (rules.md, short names), with the place in it', () => {
    expect(sourceInWords('HG ch. 13')).toBe('US Food and Drug Administration, Fish and Fishery Products Hazards and Controls Guidance, 4th edition, 2011, reissued to June 2022, chapter 13');
    expect(sourceInWords('FC 3-501.14')).toBe('US Food and Drug Administration, Food Code, 2017 and 2022, section 3-501.14');
    expect(sourceInWords('NY262.5, MI569.5')).toBe('State of New York, 1 NYCRR Part 262.5, State of Michigan, rule R 285.569.5');
    expect(sourceInWords('HG table A-4, memory; UK FSA')).toMatch(/2022, table A-4, figure remembered, not checked against its source; UK Food Standards Agency$/);
    expect(sourceInWords('AK34.310')).toBe('State of Alaska, 18 AAC 34.310');
  });

  it('say of memory and of common practice what they are, once', () => {
    expect(sourceInWords('memory')).toBe('figure remembered, not checked against its source');
    expect(sourceInWords('from memory')).toBe('figure remembered, not checked against its source');
    expect(sourceInWords('signs from memory')).toBe('signs remembered, not checked against its source');
    expect(sourceInWords('Brine table, from memory, cross-checked')).toBe('Brine table, figures remembered, cross-checked');
    expect(sourceInWords('common practice')).toBe('common practice, no source');
    expect(sourceInWords('common practice, no source')).toBe('common practice, no source');
    expect(sourceInWords(sourceInWords('common practice; memory'))).toBe(sourceInWords('common practice; memory'));
    expect(sourceWithCertainty('HG ch. 7, memory', 'from memory').match(/remembered/g)).toHaveLength(1);
    expect(sourceWithCertainty('CDC 2014', 'from memory')).toMatch(/2014; figure remembered, not checked against its source$/);
    expect(sourceWithCertainty('CDC 2014', 'published')).toMatch(/2014$/);
  });

  it('leave no short name over, of a rule or of anything in the code', () => {
    // Abbreviations that are part of the names themselves, and no source.
    const known = new Set(['US', 'UK', 'FDA', 'NYCRR', 'AAC', 'ATCP', 'NE', 'II', 'XIII']);
    const all = [...RULES.map((rule) => rule.source), ...written];
    expect(written.length).toBeGreaterThan(100);
    const over = all.flatMap((source) => (sourceInWords(source).match(/(?<![\w.])[A-Z][A-Z0-9]+\b/g) ?? []).filter((word) => !known.has(word)).map((word) => `${word} in "${source}"`));
    expect([...new Set(over)]).toEqual([]);
  });

  it('name each short name of the reference (rules.md)', () => {
    for (const short of ['HG', 'FC', 'NY262', 'MI569', 'AK34']) expect(SOURCES[short]).toBeTruthy();
  });
});
