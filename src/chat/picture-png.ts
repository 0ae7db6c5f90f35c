// Turns a picture into PNG, for channels that show no SVG.
import { Resvg } from '@resvg/resvg-js';
import type { Picture } from '../report/picture/svg.ts';

export type PngResult =
  | { readonly ok: true; readonly png: Uint8Array; readonly width: number; readonly height: number }
  | { readonly ok: false; readonly what: string; readonly doThis: string };

/** Whether this machine has a font to write with; looked up once, since it means reading all of them. */
let fonts: boolean | undefined;

const hasFonts = (): boolean => {
  fonts ??=
    new Resvg(
      '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><text y="15" font-family="Helvetica, Arial, sans-serif">Ag</text></svg>',
    ).getBBox() !== undefined;
  return fonts;
};

/**
 * @param scale how many pixels one unit of the picture gets; 3 is sharp on a telephone
 * @returns a problem with its remedy on a machine without fonts, where the words would be missing
 */
export const picturePng = (picture: Pick<Picture, 'svg'>, scale = 3): PngResult => {
  if (!hasFonts())
    return {
      ok: false,
      what: 'This machine has no font, so the words of a picture would be missing.',
      doThis:
        'Install one, such as the package fonts-dejavu-core or fonts-liberation, and start again.',
    };
  const image = new Resvg(picture.svg, {
    fitTo: { mode: 'zoom', value: scale },
    font: { loadSystemFonts: true, sansSerifFamily: 'DejaVu Sans' },
  }).render();
  return { ok: true, png: image.asPng(), width: image.width, height: image.height };
};
