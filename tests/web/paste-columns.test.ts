import { describe, expect, it } from 'vitest';
import { readingTable } from '../../server/domain/reading-table.ts';
import { airsFor, columnsWrong, readColumns, type ColumnPlace } from '../../web/src/lib/heat/columns.ts';
import { readLog } from '../../web/src/lib/models/own/words.ts';

const read = (text: string, places: Record<string, ColumnPlace> = {}) =>
  readColumns({ text, table: readingTable(text)!, places, batch: { stages: [] }, unit: 'C', day: '2026-06-10', zone: 'Europe/London', now: new Date('2026-06-12T00:00:00Z') });
const LOG = 'Time;Core;Smoker;Humidity %\n14:20;62,8;110;40\n14:25;63;112;41';

describe('the columns of a pasted log', () => {
  it('are what their headings say, humidity that of the smoker’s air; a heading that says nothing has to be told', () => {
    expect(read(LOG).map((c) => [c.name, c.place, c.read?.count ?? null, c.humidityNo])).toEqual([['Core', 'core', 2, null], ['Smoker', 'chamber', 2, 4], ['Humidity %', 'of 3', null, null]]);
    expect(read(LOG)[2]!.humidity).toMatchObject({ humid: 2, dry: [] });
    expect(columnsWrong(read(LOG), 'C', {})).toBeNull();
    expect(read(`${LOG}\nlid open`)[0]!.read!.leftOut.map((l) => l.lineNo)).toEqual([4]);
    const plain = read('14:20;62,8;110\n14:25;63;112');
    expect(columnsWrong(plain, 'C', {})).toEqual({ no: 2, message: 'Say what this column is, or leave it out.' });
    expect(columnsWrong(read('14:20;62,8;110\n14:25;63;112', { '2 ': 'out', '3 ': 'out' }), 'C', {})!.message).toMatch(/at least one/);
  });

  it('of one place keep their headings as names, so that a colder probe is not hidden in the readings of another', () => {
    expect(read('Time;Core left;Core right;Air\n14:20;62;60;110').map((c) => c.probe)).toEqual(['Core left', 'Core right', '']);
    const same = read('14:20;62;60\n14:25;63;61', { '2 ': 'core', '3 ': 'core' }).map((c) => c.probe);
    expect(new Set(same).size).toBe(2);
  });

  it('are asked about what looks like Fahrenheit or is rare, each for itself', () => {
    const hot = read('Time;Core;Chamber\n14:20;145;100\n14:25;147;100');
    expect(columnsWrong(hot, 'C', {})).toEqual({ no: 2, message: 'Say first whether this is °F.' });
    const rare = read('Time;Core;Chamber\n14:20;88;100\n14:25;88;100');
    expect(columnsWrong(rare, 'C', {})!.message).toMatch(/°C/);
    expect(columnsWrong(rare, 'C', { '2 Core': true })).toBeNull();
  });

  it('in a calculator are one at a time: the one its heading names, or the one that is chosen, and nothing is guessed', () => {
    const context = { now: new Date('2026-06-12T00:00:00Z'), zone: 'Europe/London', system: 'metric' } as const;
    const values = (log: string, column: string) => readLog({ log, column, unit: 'C' }, 'core', context).readings.map((r) => r.celsius);
    expect(values(LOG, 'named')).toEqual([62.8, 63]);
    expect(values(LOG, '2')).toEqual([110, 112]);
    expect(() => values(LOG, '3')).toThrow(/2 columns/);
    expect(() => values('14:20;62,8;110\n14:25;63;112', 'named')).toThrow(/choose the column/);
    expect(values('14:20 62.8\n14:25 63', 'named')).toEqual([62.8, 63]);
  });

  it('of humidity are asked about where there are several airs, left out where there is none, and follow a column that is air no more', () => {
    const two = 'Time;Core;Smoker top;Smoker bottom;Humidity %\n14:20;62;110;100;40\n14:25;63;112;101;41';
    expect(columnsWrong(read(two), 'C', {})).toEqual({ no: 5, message: 'Say which air this humidity is of, or leave it out.' });
    expect(airsFor(read(two)[2]!, read(two)).map((a) => a.label)).toEqual(['Humidity of Smoker top']);
    expect(airsFor(read(two)[3]!, read(two))).toEqual([{ value: 'of 3', label: 'Humidity of Smoker top' }, { value: 'of 4', label: 'Humidity of Smoker bottom' }]);
    const told = read(two, { '5 Humidity %': 'of 4' });
    expect([columnsWrong(told, 'C', {}), told.map((c) => c.humidityNo)]).toEqual([null, [null, null, 5, null]]);
    const noAir = read('Time;Core;Surface;Humidity %\n14:20;62;60;40\n14:25;63;61;41');
    expect([noAir[2]!.place, columnsWrong(noAir, 'C', {})]).toEqual(['out', null]);
    // The smoker said to be a core after all: its humidity is nobody's.
    expect(read(LOG, { '3 Smoker': 'core', '4 Humidity %': 'of 3' }).map((c) => [c.place, c.humidityNo])).toEqual([['core', null], ['core', null], ['out', null]]);
    const plain = '14:20;62,8;110;40\n14:25;63;112;41';
    expect(read(plain, { '2 ': 'core', '3 ': 'chamber', '4 ': 'of 3' }).map((c) => [c.place, c.humidityNo])).toEqual([['core', null], ['chamber', 4], ['of 3', null]]);
    const both = read('Time;Core;Smoker;RH;Humidity\n14:20;62;110;40;41\n14:25;63;111;42;43');
    expect(columnsWrong(both, 'C', {})).toEqual({ no: 5, message: 'That column has a humidity already. Leave one out.' });
  });
});
