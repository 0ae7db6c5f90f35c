import { sayAnswer } from '../answer.ts';
import { figureOf, formatRange } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import { convert, formatQuantity, type Quantity, type Unit } from '../units.ts';

export type WrenchQuestion = {
  /** Torque wanted at the bolt. */
  readonly torque: Quantity;
  /** From the middle of the square drive to the mark on the grip. */
  readonly arm: Quantity;
  /** From the middle of the square drive to the middle of the bolt. */
  readonly extension: Quantity;
  /** 0° carries the wrench on in line, 90° is square to it, 180° points back to the hand. In line when left out. */
  readonly angle?: Quantity;
  /** Least and most that can be set on the wrench. */
  readonly wrench?: { readonly least: Quantity; readonly most: Quantity };
  readonly source?: string;
};

export type WrenchSetting = {
  /** In the unit in which the torque at the bolt was given. */
  readonly setting: Quantity;
  /** Torque at the bolt if the extension is 10° off the stated angle, either way, with this setting. */
  readonly atBoltIfAngleIsOff: { readonly low: number; readonly high: number; readonly unit: Unit };
  readonly cautions: readonly string[];
  readonly answer: string;
};

/** An extension longer than this share of the arm brings a caution. Ours, no source. */
export const LONG_EXTENSION_SHARE = 0.5;

/**
 * What to set on a torque wrench with a crowfoot or other extension: setting = T·L/(L + E·cos α), with the torque T
 * at the bolt, the arm L, the extension E and the angle α between them.
 *
 * Source: US Navy NAVEDTRA 14315 (formula), US Army TM 1-1500-204-23-9 (worked example).
 * Refused: a torque outside 0.1 to 5000 N·m, an arm outside 50 to 3000 mm, an extension outside 0 to 2000 mm, an
 * angle outside 0 to 180°, an extension that reaches back to the hand, a setting that the wrench does not have.
 */
export function wrenchSetting(question: WrenchQuestion): Result<WrenchSetting> {
  const torque = figureOf(question.torque, {
    name: 'The torque',
    unit: 'N.m',
    low: 0.1,
    high: 5000,
  });
  if (!torque.ok) return torque;
  const arm = figureOf(question.arm, { name: 'The arm', unit: 'mm', low: 50, high: 3000 });
  if (!arm.ok) return arm;
  const extension = figureOf(question.extension, {
    name: 'The extension',
    unit: 'mm',
    low: 0,
    high: 2000,
  });
  if (!extension.ok) return extension;
  const given = question.angle ?? { value: 0, unit: 'deg' };
  const angle = figureOf(given, { name: 'The angle', unit: 'deg', low: 0, high: 180 });
  if (!angle.ok) return angle;

  const reach = (degrees: number) =>
    arm.value + extension.value * Math.cos((degrees * Math.PI) / 180);
  if (reach(angle.value) <= 0.25 * arm.value) {
    return refused(
      'The extension reaches back so far that the hand pulls almost over the bolt; the setting would not hold.',
      'Use a shorter extension, or point it forwards.',
    );
  }
  const { value, unit } = question.torque;
  const setting = (value * arm.value) / reach(angle.value);
  const outside = outsideTheWrench(setting, unit, question.wrench);
  if (outside) return outside;

  const off = [angle.value - 10, angle.value + 10].map(
    (degrees) => (setting * reach(degrees)) / arm.value,
  );
  const low = Math.min(value, ...off);
  const high = Math.max(value, ...off);
  const cautions = cautionsFor(
    arm.value,
    extension.value,
    angle.value,
    formatRange(low, high, unit),
  );
  return found({
    setting: { value: setting, unit },
    atBoltIfAngleIsOff: { low, high, unit },
    cautions,
    answer: sayAnswer({
      figure: `Set ${formatQuantity(setting, unit)} on the wrench`,
      basis: `${formatQuantity(value, unit)} at the bolt, arm ${say(question.arm)}, extension ${say(question.extension)} ${direction(angle.value)}`,
      cautions,
      source: question.source,
    }),
  });
}

function cautionsFor(arm: number, extension: number, angle: number, off: string): string[] {
  const cautions: string[] = [];
  if (extension === 0) return cautions;
  if (angle > 90) {
    cautions.push(
      'The extension points back, so the wrench is set higher than the bolt gets: check the angle.',
    );
  }
  if (angle > 0 && angle < 180) {
    cautions.push(`Keep the angle while pulling: 10° off it the bolt gets ${off}.`);
  }
  if (extension > LONG_EXTENSION_SHARE * arm) {
    cautions.push('The extension is long for this arm: pull only at the mark on the grip.');
  }
  return cautions;
}

function outsideTheWrench(setting: number, unit: Unit, wrench: WrenchQuestion['wrench']) {
  if (!wrench) return undefined;
  const least = convert(wrench.least.value, wrench.least.unit, unit);
  const most = convert(wrench.most.value, wrench.most.unit, unit);
  if (typeof least !== 'number') return { ok: false, problem: least } as const;
  if (typeof most !== 'number') return { ok: false, problem: most } as const;
  if (setting >= least && setting <= most) return undefined;
  return refused(
    `The setting would be ${formatQuantity(setting, unit)}, and this wrench goes from ${formatQuantity(least, unit)} to ${formatQuantity(most, unit)}.`,
    'Take a wrench that covers it.',
  );
}

function say(quantity: Quantity): string {
  return formatQuantity(quantity.value, quantity.unit);
}

function direction(angle: number): string {
  if (angle === 0) return 'in line';
  if (angle === 90) return 'square to it';
  if (angle === 180) return 'pointing straight back';
  return `at ${formatQuantity(angle, 'deg')}`;
}
