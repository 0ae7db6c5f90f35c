// Words for how a part is held once it is loose, and for titles of steps that hold something.
import type { HeldWords } from '../../pack.ts';

export const held: HeldWords = {
  held: [
    'hängt',
    'hängen',
    'aufgehängt',
    'angebunden',
    'festgebunden',
    'hochgebunden',
    'verzurrt',
    'festgezurrt',
    'festgerostet',
    'festgefressen',
    'vergammelt',
  ],
  back: ['wieder', 'dran', 'drauf', 'drin', 'rein', 'eingebaut', 'angebaut', 'montiert'],
  holds: ['sichern', 'aufhängen', 'verzurren', 'abstützen', 'halten', 'setzen', 'binden'],
  loosens: [],
  builds: [],
};
