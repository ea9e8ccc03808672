/** What a stage asks for and by when, by the club's own limits where it has stricter ones. */
import type { RuleRecord } from '$contract/rules.ts';
import { hoursInWords } from '$domain/cure/warnings.ts';
import { limitOf } from '$domain/rules/limits.ts';
import { limitOr } from '$lib/rules/limits.ts';
import { showTemperature } from '$lib/show.ts';

/** The hints under the fields of the stage sheet. Until the rules are read, the rules' own limits. */
export function stageHints(rules: readonly RuleRecord[] | undefined) {
  const cureHours = limitOr(rules, 'brine.cold.hours');
  /** What is typed is for the rule's own temperature: of the club's stricter one readings alone tell. */
  const typed = (hint: string, id: string): string => {
    const club = limitOr(rules, id);
    return club === limitOf({}, id).value ? hint : `${hint.replace(/\.?$/, '.')} The club asks for ${showTemperature(club)}: record core readings too.`;
  };
  const minutes = (id: string): string => hoursInWords(limitOr(rules, id));
  const coldest = Math.min(limitOr(rules, 'cool.fc.first.celsius'), limitOr(rules, 'cool.fc.end.celsius'));
  return {
    curePlace: `In the refrigerator or ice box. Needed before sharing${cureHours === 0 ? '' : ` when it cured for more than ${hoursInWords(60 * cureHours)}`}.`,
    held: typed('Without a break. Needed before sharing.', 'smoke.core.celsius'),
    dipCold: typed(`Within ${minutes('cool.ambient.minutes')} of when mixing began. Needed before sharing.`, 'cool.ambient.celsius'),
    readDown: `Core readings down to ${showTemperature(coldest)} say this too. Then leave it empty.`,
    to21: typed(`Within ${minutes('cool.fc.first-minutes')} of smoking`, 'cool.fc.first.celsius'),
    to5: typed(`Within ${minutes('cool.fc.total-minutes')} of smoking. You can add this later.`, 'cool.fc.end.celsius'),
  };
}
