/**
 * Which units this device shows. Records hold grams and degrees Celsius; only what a person reads and types differs.
 *
 *   units.choose('us')            // or null to follow the club
 */
export type UnitSystem = 'metric' | 'us';

const SYSTEM = 'tidelarder.units';

function read(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function write(key: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(key);
    else localStorage.setItem(key, value);
  } catch {
    // The choice then holds until the page closes.
  }
}

class Units {
  system = $state<UnitSystem | null>(asSystem(read(SYSTEM)));

  choose(system: UnitSystem | null): void {
    this.system = system;
    write(SYSTEM, system);
  }
}

function asSystem(value: string | null): UnitSystem | null {
  return value === 'metric' || value === 'us' ? value : null;
}

export const units = new Units();
