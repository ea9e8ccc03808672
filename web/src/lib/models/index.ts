/** The pages there are, by what one is doing. Each page's text and checks come when it is opened. */
import type { Model } from '$contract/common.ts';
import type { ModelPage } from './types.ts';

type Entry = { title: string; load: () => Promise<{ page: ModelPage }> };

export const PAGES: Readonly<Record<Model, Entry>> = {
  'ice': { title: 'Ice', load: () => import('./ice.ts') },
  'chilling': { title: 'Chilling in ice', load: () => import('./chilling.ts') },
  'histamine': { title: 'Histamine', load: () => import('./histamine.ts') },
  'exposure': { title: 'Hours in the warm', load: () => import('./exposure.ts') },
  'length-weight': { title: 'Weight from length', load: () => import('./length-weight.ts') },
  'brine': { title: 'Brine strength', load: () => import('./brine.ts') },
  'kitchen-measures': { title: 'Cups and spoons', load: () => import('./kitchen-measures.ts') },
  'salt-balance': { title: 'Salt and water', load: () => import('./salt-balance.ts') },
  'vessel': { title: 'Does it fit the tub', load: () => import('./vessel.ts') },
  'salt-uptake': { title: 'Salt into the fish', load: () => import('./salt-uptake.ts') },
  'salt-fit': { title: 'Salt, learned from the laboratory', load: () => import('./salt-fit.ts') },
  'water-activity': { title: 'Water activity', load: () => import('./water-activity.ts') },
  'fish-properties': { title: 'How flesh takes heat', load: () => import('./fish-properties.ts') },
  'humid-air': { title: 'Moist air and the wet-bulb', load: () => import('./humid-air.ts') },
  'smoking-heat': { title: 'Heat in the smoker', load: () => import('./smoking-heat.ts') },
  'smoker-fit': { title: 'A smoker, learned from its logs', load: () => import('./smoker-fit.ts') },
  'hold': { title: 'The hold at 62.8 °C', load: () => import('./hold.ts') },
  'lethality': { title: 'What the heat kills', load: () => import('./lethality.ts') },
  'cooling': { title: 'Cooling', load: () => import('./cooling.ts') },
  'dates': { title: 'Last days', load: () => import('./dates.ts') },
  'spoilage': { title: 'Days on ice used up', load: () => import('./spoilage.ts') },
  'listeria-growth': { title: 'Listeria in the cold', load: () => import('./listeria-growth.ts') },
  'yield': { title: 'Yield', load: () => import('./yield.ts') },
  'sharing': { title: 'Dividing whole amounts', load: () => import('./sharing.ts') },
  'mercury': { title: 'Mercury and servings', load: () => import('./mercury.ts') },
};

export const GROUPS: readonly { title: string; models: readonly Model[] }[] = [
  { title: 'On the boat', models: ['ice', 'chilling', 'histamine', 'exposure', 'length-weight'] },
  { title: 'Curing', models: ['brine', 'kitchen-measures', 'salt-balance', 'vessel', 'salt-uptake', 'salt-fit', 'water-activity'] },
  { title: 'Smoking and cooling', models: ['smoking-heat', 'smoker-fit', 'hold', 'lethality', 'cooling', 'humid-air', 'fish-properties'] },
  { title: 'Keeping', models: ['dates', 'spoilage', 'listeria-growth'] },
  { title: 'Weighing and sharing', models: ['yield', 'sharing', 'mercury'] },
];

/** The model that an address names; null when there is none of that name. */
export function modelNamed(slug: string): Model | null {
  return Object.hasOwn(PAGES, slug) ? (slug as Model) : null;
}
