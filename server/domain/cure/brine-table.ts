/**
 * Where brine freezes, or above 88.3 degrees where its salt starts to fall out, by
 * salometer degrees (saturated scale). [degrees, F]. Source: brine table at 60 F, from
 * memory and cross-checked.
 */
export const FREEZING_F: readonly (readonly [number, number])[] = [
  [0, 32], [2, 31.5], [4, 31.1], [6, 30.5], [8, 30], [10, 29.3], [12, 28.8], [14, 28.2], [16, 27.6], [18, 27], [20, 26.4], [22, 25.7], [24, 25.1],
  [26, 24.4], [28, 23.7], [30, 23], [32, 22.3], [34, 21.6], [36, 20.9], [38, 20.2], [40, 19.4], [42, 18.7], [44, 17.9], [46, 17.1], [48, 16.2],
  [50, 15.4], [52, 14.5], [54, 13.7], [56, 12.8], [58, 11.8], [60, 10.9], [62, 9.9], [64, 8.9], [66, 7.9], [68, 6.8], [70, 5.7], [72, 4.6], [74, 3.4],
  [76, 2.2], [78, 1], [80, -0.4], [82, -1.6], [84, -3], [86, -4.4], [88, -5.8], [88.3, -6], [90, -1.1], [92, 4.8], [94, 11.1], [96, 18], [98, 25.5], [100, 60],
];

/** Above this the table's temperature is where salt falls out of the brine, not where it freezes. */
export const EUTECTIC_DEGREES = 88.3;

/** The table's temperature at a strength, in F, straight lines between its rows. Range: 0 to 100 degrees. */
export function tableTemperatureF(degrees: number): number {
  const above = FREEZING_F.findIndex(([row]) => row >= degrees);
  const [highDegrees, highF] = FREEZING_F[above]!;
  if (above === 0) return highF;
  const [lowDegrees, lowF] = FREEZING_F[above - 1]!;
  return lowF + ((highF - lowF) * (degrees - lowDegrees)) / (highDegrees - lowDegrees);
}
