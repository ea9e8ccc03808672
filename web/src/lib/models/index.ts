/** The pages there are, by what one is doing. Each page's text and checks come when it is opened. */
import type { Model } from '$contract/common.ts';
import type { ModelPage } from './types.ts';

type Entry = { title: string; /** What can be worked out there, as a person asks it. */ asks: string; load: () => Promise<{ page: ModelPage }> };

export const PAGES: Readonly<Record<Model, Entry>> = {
  'ice': { title: 'Ice', asks: 'How much ice to take', load: () => import('./ice.ts') },
  'chilling': { title: 'Chilling in ice', asks: 'Hours until a layer of fish is cold', load: () => import('./chilling.ts') },
  'histamine': { title: 'Histamine', asks: 'Was it chilled soon enough', load: () => import('./histamine.ts') },
  'exposure': { title: 'Hours in the warm', asks: 'How long was it warm, from a log', load: () => import('./exposure.ts') },
  'length-weight': { title: 'Weight from length', asks: 'What a fish of this length weighs', load: () => import('./length-weight.ts') },
  'brine': { title: 'Brine strength', asks: 'How strong is this brine; salt for this water; weaker, stronger, colder', load: () => import('./brine.ts') },
  'kitchen-measures': { title: 'Cups and spoons', asks: 'What cups and spoons weigh, and back', load: () => import('./kitchen-measures.ts') },
  'salt-balance': { title: 'Salt and water', asks: 'Water-phase salt; salt after drying; where it evens out', load: () => import('./salt-balance.ts') },
  'vessel': { title: 'Does it fit the tub', asks: 'Does it fit the tub', load: () => import('./vessel.ts') },
  'salt-uptake': { title: 'Salt into the fish', asks: 'Salt after so many hours; how long it takes; too salty', load: () => import('./salt-uptake.ts') },
  'salt-fit': { title: 'Salt, learned from the laboratory', asks: 'Your own laboratory figures', load: () => import('./salt-fit.ts') },
  'water-activity': { title: 'Water activity', asks: 'Water activity of a salt', load: () => import('./water-activity.ts') },
  'fish-properties': { title: 'How flesh takes heat', asks: 'How flesh holds and conducts heat', load: () => import('./fish-properties.ts') },
  'humid-air': { title: 'Moist air and the wet-bulb', asks: 'Where the core stalls in such air', load: () => import('./humid-air.ts') },
  'smoking-heat': { title: 'Heat in the smoker', asks: 'Heating or cooling of a piece, exactly', load: () => import('./smoking-heat.ts') },
  'smoker-fit': { title: 'A smoker, learned from its logs', asks: 'On the smoker’s own page', load: () => import('./smoker-fit.ts') },
  'hold': { title: 'The hold at 62.8 °C', asks: 'Did this core hold, from a log', load: () => import('./hold.ts') },
  'lethality': { title: 'What the heat kills', asks: 'What a heating did, from a log', load: () => import('./lethality.ts') },
  'cooling': { title: 'Cooling', asks: 'Did it cool fast enough; how deep a tray may be', load: () => import('./cooling.ts') },
  'dates': { title: 'Last days', asks: 'Until when it keeps', load: () => import('./dates.ts') },
  'spoilage': { title: 'Days on ice used up', asks: 'What a warm afternoon cost; days used up, from a log', load: () => import('./spoilage.ts') },
  'listeria-growth': { title: 'Listeria in the cold', asks: 'How much faster it grows in the warm', load: () => import('./listeria-growth.ts') },
  'yield': { title: 'Yield', asks: 'What it will weigh after each stage; is this weight believable', load: () => import('./yield.ts') },
  'sharing': { title: 'Dividing whole amounts', asks: 'Packs or weight by shares; dry cure by layers', load: () => import('./sharing.ts') },
  'mercury': { title: 'Mercury and servings', asks: 'Meals a month; how large a serving is', load: () => import('./mercury.ts') },
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
