/** Time zones to choose from. Browsers leave some out of their own list, UTC among them: what is in use is always there. */
export function zoneOptions(...inUse: readonly string[]): { value: string; label: string }[] {
  const zones = new Set([...inUse.filter((zone) => zone !== ''), ...Intl.supportedValuesOf('timeZone'), 'UTC']);
  return [...zones].map((zone) => ({ value: zone, label: zone.replaceAll('_', ' ') }));
}
