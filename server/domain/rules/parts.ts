import { ruleOf } from './registry.ts';
import type { Finding } from './rule.ts';

/** The parts of a rule that has always the same ones, by rule and part. */
const PART_WORDS: Readonly<Record<string, string>> = {
  'smoke.core core': 'how hot', 'smoke.core hold': 'for how long', 'smoke.core ended': 'to its end', 'smoke.core raw': 'fish not smoked',
  'smoke.core-home core': 'core', 'smoke.core-home air': 'air of the smoker',
  'cool.fc to-21': 'first step', 'cool.fc to-end': 'in all', 'cool.hg to-21': 'first step', 'cool.hg to-end': 'second step',
  'thaw place': 'the fish and its place', 'thaw water': 'the water',
};

/**
 * What each finding is about, in words and in the order of the findings: 'landing of 3 May, Atlantic mackerel'. Empty where no other finding has
 * the same title; numbered where two would read the same.
 */
export function partsInWords(findings: readonly Finding[]): string[] {
  const titles = findings.map(({ ruleId }) => ruleOf(ruleId).title);
  const said = findings.map((finding, i) => (occurs(titles, titles[i]!) > 1 ? (finding.about ?? PART_WORDS[`${finding.ruleId} ${finding.part}`] ?? '') : ''));
  const whole = titles.map((title, i) => `${title}: ${said[i]}`);
  return whole.map((name, i) => {
    const several = occurs(whole, name);
    return several === 1 ? said[i]! : [said[i], `${occurs(whole.slice(0, i + 1), name)} of ${several}`].filter(Boolean).join(', ');
  });
}

const occurs = (list: readonly string[], one: string): number => list.filter((other) => other === one).length;
