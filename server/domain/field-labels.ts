/** What people call the fields of the API and of the trade. A test holds the list against every request of the contract. */
export const FIELD_LABELS: Readonly<Record<string, string>> = {
  addedG: 'weight added', airC: 'air temperature', allergens: 'allergens', amount: 'amount', area: 'area', batchId: 'batch', body: 'request', boatId: 'boat', cancelled: 'undo',
  capacity: 'capacity', capacityUnit: 'unit of the capacity', captain: 'captain', catcher: 'catcher', caughtAt: 'time of the catch', claimable: 'what can be claimed', closesAt: 'closing time',
  clubName: 'name of the club', code: 'code', columns: 'columns', cooledAt: 'time it was cold', cooledTo21At: 'time it was at 21 C', copies: 'copies', coreC: 'core temperature', cornerMm: 'corner of a label',
  current: 'present password', cursor: 'place in the list', day: 'day', days: 'days', discarded: 'thrown away', draws: 'fish drawn', dueAt: 'time it is due', email: 'e-mail address', endsAt: 'end',
  fishGrams: 'weight of fish', expiresInDays: 'days the invitation lasts', finishedAt: 'time it finished', fishCount: 'number of fish', form: 'form of the fish', from: 'start of the days', frozenDay: 'day of freezing',
  geometry: 'measures of the sheet', grams: 'weight', guestName: 'name of the guest', handedAt: 'time of the hand-over', holdMinutes: 'minutes held', icedAt: 'time of icing', guttedAt: 'time of gutting', fromFrozen: 'fish from the freezer', landedAt: 'time of landing', guttedSource: 'source for 12 hours when gutted', id: 'record',
  ingredient: 'kind of ingredient', ingredients: 'ingredients', items: 'ingredients', instant: 'time', kind: 'kind', labelHeightMm: 'height of a label', labelWidthMm: 'width of a label', layoutId: 'sheet of labels', left: 'what is left',
  lengthKind: 'kind of length', lengthsCm: 'lengths', limit: 'number in a page', login: 'user name or e-mail', lossReason: 'reason of the loss', marginLeftMm: 'left margin', marginTopMm: 'top margin',
  markHeld: 'marks for what is on hold', massInG: 'weight in', massOutG: 'weight out', maxCoreC: 'highest core temperature', coreUnitConfirmed: 'unit of the core that was looked at', maxPlaceC: 'warmest where it stood', maxFishGrams: 'weight of the heaviest fish', memberId: 'member', method: 'kind of cure', mine: 'whose packs', mixedDay: 'day of mixing',
  name: 'name', next: 'new password', note: 'note', open: 'open or closed', opensAt: 'opening time', packId: 'pack', packIds: 'packs', packageKind: 'package', packedAt: 'time of packing',
  pageHeightMm: 'height of the page', pageWidthMm: 'width of the page', params: 'address', password: 'password', people: 'people aboard', pitchXMm: 'distance across', pitchYMm: 'distance down',
  pooling: 'wish about mixing', productKind: 'product', q: 'search', querystring: 'address', reason: 'reason', retired: 'retirement', role: 'role', rows: 'rows', saleWords: 'words about sale', contactWords: 'how to reach the club', told: 'who was told', passedOn: 'passed on',
  scientificName: 'scientific name', scombrotoxin: 'scombrotoxin', scombrotoxinSource: 'source', addedLastDay: 'last day of the other ingredients', shareWeight: 'share', smokeFinishedAt: 'end of smoking', source: 'source', speciesCode: 'species', stageKind: 'stage',
  startAt: 'first label', startedAt: 'time it started', startsAt: 'start', stationId: 'station', status: 'state', storage: 'storage', subjectId: 'subject', subjectKind: 'kind of subject',
  thawedDay: 'day of thawing', time: 'time', timeZone: 'time zone', to: 'receiver', toMemberId: 'new member', toPackId: 'new pack', token: 'link', total: 'total', trayNo: 'tray', trimG: 'trim',
  tripId: 'trip', units: 'units', userName: 'user name', version: 'version', waterC: 'water temperature', weightsG: 'weights', withdrawn: 'taking out',
  place: 'place of the probe', probe: 'probe', stageId: 'stage', readings: 'readings', text: 'text', unit: 'unit',
  unitConfirmed: 'unit that was looked at', humidityPct: 'humidity', celsius: 'temperature', at: 'time', withdrawnNos: 'readings taken out', listId: 'list of readings',
  add: 'smoke to learn from', remove: 'smokes to take out', draught: 'draught', facesOpen: 'how it lies', saltPct: 'salt', smokedHere: 'where it was smoked',
  value: 'value', part: 'part of the fish', laboratory: 'laboratory', sampledDay: 'day of the sample', reportedDay: 'day of the report', ruleId: 'rule',
  cure: 'how it is cured', counts: 'counts', saltKind: 'kind of salt', saltGrams: 'salt', sugarKind: 'kind of sugar', sugarGrams: 'sugar', waterGrams: 'water', brinePercent: 'brine strength', others: 'other ingredients',
  thicknessMm: 'thickness', skin: 'skin', temperatureC: 'temperature of the place', onceFrozen: 'frozen before', fat: 'how fat it is',
};

/**
 * What people call a field, given by its name or by its path in a request: 'draws.1.grams' is "weight, line 2". A name that
 * the list lacks is taken apart into its words. Never throws.
 */
export function fieldLabel(path: string): string {
  const parts = path.split('.');
  const named = parts.filter((part) => !/^\d+$/.test(part));
  const last = named.at(-1) ?? path;
  const index = parts.findLast((part) => /^\d+$/.test(part));
  const label = FIELD_LABELS[last] ?? wordsOf(last);
  return index === undefined ? label : `${label}, line ${Number(index) + 1}`;
}

const wordsOf = (name: string): string => name.replace(/(?:Grams|Mm|Cm|Id|[GC])$/, '').replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase() || name;
