import type { Role } from '$contract/common.ts';

export interface Place {
  href: string;
  label: string;
  /** Roles that see it; all when left out. */
  roles?: readonly Role[];
}

/** At the thumb: five at most. */
export const mainPlaces: readonly Place[] = [
  { href: '/', label: 'Today' },
  { href: '/fish', label: 'Fish' },
  { href: '/batches', label: 'Batches' },
  { href: '/calendar', label: 'Calendar' },
  { href: '/packs', label: 'Packs' },
];

/** Behind "More" on a phone, under the main ones on a desk. */
export const otherPlaces: readonly Place[] = [
  { href: '/people', label: 'People', roles: ['captain', 'crew'] },
  { href: '/stations', label: 'Stations' },
  { href: '/boats', label: 'Boats', roles: ['captain', 'crew'] },
  { href: '/species', label: 'Species', roles: ['captain', 'crew'] },
  { href: '/formulas', label: 'Formulas', roles: ['captain', 'crew'] },
  { href: '/label-sheets', label: 'Label sheets', roles: ['captain', 'crew'] },
  { href: '/record', label: 'Record', roles: ['captain', 'crew'] },
  { href: '/club', label: 'Club', roles: ['captain'] },
  { href: '/models', label: 'Calculations' },
  { href: '/account', label: 'My account' },
];

export function placesFor(places: readonly Place[], role: Role | undefined): Place[] {
  return places.filter((place) => place.roles === undefined || (role !== undefined && place.roles.includes(role)));
}

/** Whether a page belongs to a place: its own address or one below it. */
export function isHere(href: string, pathname: string): boolean {
  return href === '/' ? pathname === '/' : pathname === href || pathname.startsWith(`${href}/`);
}
