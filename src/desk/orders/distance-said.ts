// "412,400 km", "9120 hours": an odometer or hour meter as people write it.

export type DistanceSaid = { readonly value: number; readonly unit: 'km' | 'mi' | 'h' };

const FORM =
  /(?<![\p{L}\d.,])(\d{1,3}(?:[ ,.]\d{3})+|\d{1,7})\s*(km|kms|k|kilomet(?:re|er)s?|mi|mls|miles?|h|hrs?|hours?)(?![\p{L}\d])/iu;

const UNITS: Readonly<Record<string, DistanceSaid['unit']>> = { k: 'km', m: 'mi', h: 'h' };

/** The first distance or count of hours in a text; thousands may be parted by blank, comma or point. */
export const distanceSaid = (text: string): DistanceSaid | undefined => {
  const found = FORM.exec(text);
  const unit = UNITS[found?.[2]?.[0]?.toLowerCase() ?? ''];
  return found && unit
    ? { value: Number((found[1] ?? '').replace(/[ ,.]/gu, '')), unit }
    : undefined;
};

/** "412,400 km" */
export const distanceWords = ({ value, unit }: DistanceSaid): string =>
  `${value.toLocaleString('en-GB')} ${unit}`;
