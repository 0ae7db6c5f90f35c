/**
 * What the numbers of a heavy-vehicle trouble code mean, in our own words.
 * Source of the numbers: SAE J1939-73 and the J1939 digital annex, as carried by the MIT-licensed repositories
 * AgIsoStack++, Open-SAE-J1939 and python-can-j1939.
 */

/** How the component failed: the failure mode identifier, 0 to 31. 22 to 30 are kept free by the standard. */
export const FAILURE_MODES: ReadonlyMap<number, string> = new Map([
  [0, 'far above normal'],
  [1, 'far below normal'],
  [2, 'erratic'],
  [3, 'voltage high'],
  [4, 'voltage low'],
  [5, 'current low or open circuit'],
  [6, 'current high or grounded'],
  [7, 'mechanism not responding'],
  [8, 'abnormal frequency'],
  [9, 'abnormal update rate'],
  [10, 'changes abnormally fast'],
  [11, 'cause not known'],
  [12, 'device faulty'],
  [13, 'out of calibration'],
  [14, 'special instruction: see the maker'],
  [15, 'slightly above normal'],
  [16, 'moderately above normal'],
  [17, 'slightly below normal'],
  [18, 'moderately below normal'],
  [19, 'network data in error'],
  [20, 'drifted high'],
  [21, 'drifted low'],
  [31, 'condition exists'],
]);

/** What is concerned: the suspect parameter number. Only those a workshop on this kind of job meets. */
export const PARAMETERS: ReadonlyMap<number, string> = new Map([
  [84, 'wheel speed'],
  [91, 'accelerator pedal position'],
  [94, 'fuel delivery pressure'],
  [97, 'water in fuel'],
  [98, 'engine oil level'],
  [100, 'engine oil pressure'],
  [102, 'boost pressure'],
  [105, 'intake air temperature'],
  [110, 'coolant temperature'],
  [111, 'coolant level'],
  [157, 'fuel rail pressure'],
  [168, 'battery voltage'],
  [174, 'fuel temperature'],
  [175, 'engine oil temperature'],
  [190, 'engine speed'],
  [636, 'engine position sensor'],
  ...Array.from({ length: 8 }, (_, n) => [651 + n, `injector, cylinder ${n + 1}`] as const),
  [1322, 'misfire, several cylinders'],
  ...Array.from({ length: 6 }, (_, n) => [1323 + n, `misfire, cylinder ${n + 1}`] as const),
  [3251, 'particulate filter pressure difference'],
  [3719, 'particulate filter soot load'],
]);
