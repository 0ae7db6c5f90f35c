/**
 * The units a workshop writes. Every factor is a definition, not a measurement: 1 in = 25.4 mm,
 * 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s², 1 US gallon = 231 in³, 1 imperial gallon = 4.54609 L.
 *
 * Source: NIST SP 811 (2008), appendix B.
 */

/** What a unit measures. `distance` is how far a vehicle goes; `length` is what a rule, gauge or arm measures. */
export type QuantityKind =
  | 'torque'
  | 'volume'
  | 'pressure'
  | 'length'
  | 'distance'
  | 'temperature'
  | 'mass'
  | 'duration'
  | 'voltage'
  | 'resistance'
  | 'current'
  | 'speed'
  | 'angle'
  | 'percentage'
  | 'count';

/** One unit: what it measures, how it is written, how large it is. */
export type UnitRow = {
  readonly kind: QuantityKind;
  /** As it is written after a figure. */
  readonly symbol: string;
  /** One unit is `factor` of the kind's base unit: N·m, L, kPa, mm, kg, s, V, Ω, A, °C. */
  readonly factor: number;
  /** The units this word may stand for, where the word alone does not say. */
  readonly ambiguous?: readonly [string, string];
};

/** One pound-force in newtons: 0.45359237 kg under 9.80665 m/s². */
const POUND_FORCE_N = 4.4482216152605;

export const UNIT_ROWS = {
  'N.m': { kind: 'torque', symbol: 'N·m', factor: 1 },
  'lbf.ft': { kind: 'torque', symbol: 'lbf·ft', factor: POUND_FORCE_N * 0.0254 * 12 },
  'lbf.in': { kind: 'torque', symbol: 'lbf·in', factor: POUND_FORCE_N * 0.0254 },
  'kgf.m': { kind: 'torque', symbol: 'kgf·m', factor: 9.80665 },
  L: { kind: 'volume', symbol: 'L', factor: 1 },
  mL: { kind: 'volume', symbol: 'mL', factor: 1 / 1000 },
  gal_us: { kind: 'volume', symbol: 'US gal', factor: 3.785411784 },
  gal_imp: { kind: 'volume', symbol: 'imp gal', factor: 4.54609 },
  qt_us: { kind: 'volume', symbol: 'US qt', factor: 3.785411784 / 4 },
  qt_imp: { kind: 'volume', symbol: 'imp qt', factor: 4.54609 / 4 },
  pt_us: { kind: 'volume', symbol: 'US pt', factor: 3.785411784 / 8 },
  pt_imp: { kind: 'volume', symbol: 'imp pt', factor: 4.54609 / 8 },
  gal: { kind: 'volume', symbol: 'gal', factor: Number.NaN, ambiguous: ['gal_us', 'gal_imp'] },
  qt: { kind: 'volume', symbol: 'qt', factor: Number.NaN, ambiguous: ['qt_us', 'qt_imp'] },
  pt: { kind: 'volume', symbol: 'pt', factor: Number.NaN, ambiguous: ['pt_us', 'pt_imp'] },
  kPa: { kind: 'pressure', symbol: 'kPa', factor: 1 },
  MPa: { kind: 'pressure', symbol: 'MPa', factor: 1000 },
  bar: { kind: 'pressure', symbol: 'bar', factor: 100 },
  psi: { kind: 'pressure', symbol: 'psi', factor: POUND_FORCE_N / (25.4 * 25.4) / 0.001 },
  um: { kind: 'length', symbol: 'µm', factor: 1 / 1000 },
  mm: { kind: 'length', symbol: 'mm', factor: 1 },
  cm: { kind: 'length', symbol: 'cm', factor: 10 },
  m: { kind: 'length', symbol: 'm', factor: 1000 },
  thou: { kind: 'length', symbol: 'thou', factor: 0.0254 },
  in: { kind: 'length', symbol: 'in', factor: 25.4 },
  km: { kind: 'distance', symbol: 'km', factor: 1_000_000 },
  mi: { kind: 'distance', symbol: 'mi', factor: 1_609_344 },
  Cel: { kind: 'temperature', symbol: '°C', factor: 1 },
  degF: { kind: 'temperature', symbol: '°F', factor: 5 / 9 },
  kg: { kind: 'mass', symbol: 'kg', factor: 1 },
  g: { kind: 'mass', symbol: 'g', factor: 1 / 1000 },
  lb: { kind: 'mass', symbol: 'lb', factor: 0.45359237 },
  h: { kind: 'duration', symbol: 'h', factor: 3600 },
  min: { kind: 'duration', symbol: 'min', factor: 60 },
  s: { kind: 'duration', symbol: 's', factor: 1 },
  V: { kind: 'voltage', symbol: 'V', factor: 1 },
  mV: { kind: 'voltage', symbol: 'mV', factor: 1 / 1000 },
  Ohm: { kind: 'resistance', symbol: 'Ω', factor: 1 },
  kOhm: { kind: 'resistance', symbol: 'kΩ', factor: 1000 },
  A: { kind: 'current', symbol: 'A', factor: 1 },
  mA: { kind: 'current', symbol: 'mA', factor: 1 / 1000 },
  rpm: { kind: 'speed', symbol: 'r/min', factor: 1 },
  deg: { kind: 'angle', symbol: '°', factor: 1 },
  '%': { kind: 'percentage', symbol: '%', factor: 1 },
  count: { kind: 'count', symbol: '', factor: 1 },
} as const satisfies Record<string, UnitRow>;
