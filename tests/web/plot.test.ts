import { describe, expect, test } from 'vitest';
import { layPlot, placeNames, spread } from '../../web/src/lib/ui/plot.ts';
import type { PlotSeries } from '../../web/src/lib/ui/plot.ts';

const frame = { width: 400, height: 260, left: 40, right: 10, top: 10, bottom: 40 };
const axes = { x: { name: 'Time', show: String }, y: { name: 'Core', show: String } };
const core: PlotSeries = { name: 'Core', tone: 'ember', points: [{ x: 0, y: 5 }, { x: 60, y: null }, { x: 120, y: 60 }, { x: 180, y: 66, low: 64, high: 68 }] };

describe('a plot', () => {
  test('breaks its line where nothing was recorded', () => {
    const [line] = layPlot([core], axes, [], [], frame).lines;
    expect(line!.path.match(/M/g)).toHaveLength(2);
  });

  test('has its limits in sight, also when nothing reached them', () => {
    const laid = layPlot([core], axes, [{ at: 82, name: 'limit' }], [{ at: 240, name: 'end' }], frame);
    expect(laid.y(82)).toBeGreaterThanOrEqual(frame.top);
    expect(laid.x(240)).toBeCloseTo(frame.width - frame.right);
  });

  test('draws nothing, and does not fail, without points or with one', () => {
    expect(layPlot([{ ...core, points: [] }], axes, [], [], frame).lines[0]!.path).toBe('');
    expect(layPlot([{ ...core, points: [{ x: 1, y: 1 }] }], axes, [], [], frame).lines[0]!.path).not.toContain('NaN');
  });
});

test('names that would stand on one another are placed apart and stay above the bottom', () => {
  const places = spread([100, 102, 240, 241], 16, 242);
  expect([...places].sort((a, b) => a - b)).toEqual(places);
  for (const [i, at] of places.entries()) if (i > 0) expect(at - places[i - 1]!).toBeGreaterThanOrEqual(16);
  expect(Math.max(...places)).toBeLessThanOrEqual(242);
});

describe('the names of moments and levels', () => {
  /** As wide as its letters are at most, as high as a line. */
  const box = ({ text, x, y, anchor }: ReturnType<typeof placeNames>[number]) => {
    const wide = text.length * 7;
    return { left: anchor === 'start' ? x : x - wide, right: anchor === 'start' ? x + wide : x, top: y - 11, bottom: y + 3 };
  };
  test('never stand on one another, and stay within the frame', () => {
    const moments = [{ at: 200, name: 'smoke on' }, { at: 210, name: '95 C' }, { at: 380, name: 'near the end' }];
    const levels = [{ at: 20, name: 'at the very top' }, { at: 120, name: '65.6 C' }, { at: 124, name: '62.8 C for 30 min' }, { at: 130, name: '60 C' }, { at: 219, name: 'at the bottom' }];
    const names = placeNames(moments, levels, frame);
    expect(names.map((n) => n.text)).toEqual([...moments, ...levels].map((r) => r.name));
    for (const [i, name] of names.entries()) {
      const one = box(name);
      expect([name.text, one.left >= frame.left, one.right <= frame.width - frame.right, one.top >= 0, one.bottom <= frame.height - frame.bottom + 4]).toEqual([name.text, true, true, true, true]);
      for (const other of names.slice(i + 1).map(box)) expect([name.text, one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom]).toEqual([name.text, false]);
    }
  });
  test('stay off the lines of a phone’s plot where there is room', () => {
    const phone = { width: 356, height: 260, left: 44, right: 12, top: 12, bottom: 40 };
    // A chamber that is near its limit all the time, and a core that rises through its own.
    const chamber: PlotSeries = { name: 'Chamber', tone: 'ink', points: [{ x: 0, y: 44 }, { x: 100, y: 62 }, { x: 150, y: 97 }, { x: 240, y: 96 }] };
    const rising: PlotSeries = { name: 'Core', tone: 'ember', points: [{ x: 0, y: 12 }, { x: 100, y: 42 }, { x: 150, y: 68 }, { x: 230, y: 69 }, { x: 240, y: 55 }] };
    const laid = layPlot([chamber, rising], axes, [{ at: 62.8, name: '' }], [], phone);
    const drawn = laid.lines.flatMap((line) => line.drawn);
    const names = placeNames([{ at: laid.x(145), name: '00:14' }, { at: laid.x(233), name: '01:42' }], [{ at: laid.y(62.8), name: '62.8 °C for 30 min' }], phone, drawn);
    for (const name of names) {
      const one = box(name);
      expect([name.text, drawn.filter(({ x, y }) => x > one.left && x < one.right && y > one.top && y < one.bottom).length]).toEqual([name.text, 0]);
    }
    // Without the lines they stand where they always did, on the chamber's.
    const [first] = placeNames([{ at: laid.x(145), name: '00:14' }], [], phone);
    expect(drawn.some(({ x, y }) => x > box(first!).left && x < box(first!).right && y > box(first!).top && y < box(first!).bottom)).toBe(true);
  });
  test('a name too long for the frame is drawn all the same', () => {
    expect(placeNames([], [{ at: 100, name: 'x'.repeat(90) }], frame)).toHaveLength(1);
  });
});
