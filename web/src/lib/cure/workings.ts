/** How the planner's plain sums came about: what the domain has no working of its own for. */
import type { Working } from '$contract/common.ts';
import type { CurePlan } from '$domain/cure/planner.ts';
import type { CureGroup } from '$domain/cure/thickness-groups.ts';

const sum = (formula: string, inputs: Working['inputs'], more: Partial<Working> = {}): Working => ({ inputs, formula, source: 'arithmetic', certainty: 'arithmetic', ...more });

export const fishWorking = (plan: CurePlan, estimated: boolean): Working =>
  sum(estimated ? 'landed weight x published yield of the cut' : 'as entered, or as it lies in the batch', [{ name: 'fish', value: plan.fishGrams, unit: 'g' }], estimated ? { source: 'conversion factors', uncertainty: 'weigh it once it is cut', certainty: 'published', model: 'yield' } : {});

export const litresWorking = (grams: number): Working => sum('1 litre of water counts as 1 kg', [{ name: 'water', value: grams, unit: 'g' }], { model: 'brine', source: 'the worked brine of the metric brine table', certainty: 'published' });

export const saltPer100Working = (plan: CurePlan): Working => sum('100 x salt / fish', [{ name: 'salt', value: plan.amounts.saltGrams, unit: 'g' }, { name: 'fish', value: plan.fishGrams, unit: 'g' }]);

export const groupWorking = (group: CureGroup): Working => sum('the weights of its pieces; several kinds of fish share a weight as they were drawn', [{ name: 'group', value: group.name }, { name: 'pieces', value: group.ids.length }], { model: 'sharing' });

/** The salt of a group's quickest piece when its slowest comes out. */
export const thinnestWorking = ({ first, last }: CureGroup): Working => ({ ...first.time.working, inputs: [...first.time.working.inputs.filter(({ name }) => name !== 'target'), { name: 'time', value: last.time.minutes ?? 0, unit: 'min' }], formula: 'mean salt of the thinnest piece at the time of the thickest' });

export const clockWorking = (plan: CurePlan): Working =>
  sum('95 % of the aim, where the cure is made to end at it', [{ name: 'aim after the cure', value: plan.curedTargetPercent, unit: '%' }, { name: 'ends at', value: plan.amounts.equilibriumPercent, unit: '%' }], { model: 'salt-uptake', source: 'common practice', certainty: 'common practice' });

export const waterWorking = (percent: number, source: string): Working => sum('water in 100 g of raw flesh', [{ name: 'water', value: percent, unit: '%' }], { model: 'fish-properties', source, certainty: /memory/.test(source) ? 'from memory' : 'published' });

/** Of a formula's other ingredients. */
export const scaledWorking = (grams: number, fishGrams: number): Working => sum('as the formula has it, times the fish over the fish that it is for', [{ name: 'this much', value: grams, unit: 'g' }, { name: 'fish', value: fishGrams, unit: 'g' }], { source: 'formula of the club' });

/** Of one thing on the shelf that stands in several lines of a plan. */
export const addedWorking = (lines: readonly { name: string; grams: number }[]): Working => sum('its lines of the plan together', lines.map(({ name, grams }) => ({ name, value: grams, unit: 'g' })));

export const roomWorking = (plan: CurePlan): Working =>
  sum('fish / 1.05 kg per litre + cure', [{ name: 'fish', value: plan.fishGrams, unit: 'g' }, { name: 'brine or cure', value: plan.amounts.cureLitres, unit: 'l' }], { model: 'vessel', source: 'density from composition (computed)', certainty: 'common practice' });
