// Words for how a part is held once it is loose, and for titles of steps that loosen, hold or build something up.
import type { HeldWords } from '../../pack.ts';

export const held: HeldWords = {
  held: [
    'hung',
    'tied',
    'strapped',
    'slung',
    'cable tied',
    'cable-tied',
    'rusted',
    'seized',
    'corroded',
    'hangs',
    'hanging',
  ],
  back: ['back', 'on', 'in', 'refit*', 'fitted', 'reconnected'],
  holds: ['strap', 'sling', 'support', 'hang', 'tie', 'prop', 'secure', 'hold', 'set'],
  loosens: [
    'remove',
    'take',
    'draw',
    'disconnect',
    'unplug',
    'loosen',
    'drain',
    'slacken',
    'pull',
    'unbolt',
    'lift out',
  ],
  builds: ['build', 'fill', 'raise', 'pump', 'top', 'warm', 'charge'],
};
