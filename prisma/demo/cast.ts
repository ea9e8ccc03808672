import type { Role } from '../../server/contract/common.ts';

/** Invented people of an invented club. The first of each role can be signed in as. */
export const people: { name: string; userName: string; role: Role }[] = [
  { name: 'Ina Skarvey', userName: 'ina', role: 'captain' },
  { name: 'Torvald Breck', userName: 'torvald', role: 'captain' },
  { name: 'Moss Hallan', userName: 'moss', role: 'crew' },
  { name: 'Petra Oyle', userName: 'petra', role: 'crew' },
  { name: 'Sunniva Rae', userName: 'sunniva', role: 'member' },
  { name: 'Dougal Finch', userName: 'dougal', role: 'member' },
  { name: 'Ælfrun Holm', userName: 'aelfrun', role: 'member' },
  { name: 'Bran Tolmie', userName: 'bran', role: 'member' },
  { name: 'Łucja Wren', userName: 'lucja', role: 'member' },
];
