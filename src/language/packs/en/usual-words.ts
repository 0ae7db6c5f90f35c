// What is said in any workshop of a work that its title names: "chocks in", "all dry", "running". Each row holds for
// the steps whose title has all its words, in the singular; a bar between words means one of them.
import type { UsualWords } from '../../pack.ts';

const row = (of: string, says: string, not?: string): UsualWords => ({
  of: of.split(' ').map((one) => one.split('|')),
  says: says.split(', '),
  ...(not === undefined ? {} : { not: not.split(' ') }),
});

export const usualWords: readonly UsualWords[] = [
  row(
    'chock',
    'chocked, chocked up, chocks in, chocks under, chocks on, wheels chocked, chocked front and back, chocked fore and aft, wheels chocked front and back, wheels chocked fore and aft, wheels chocked front and rear, chocked front and rear, wheels chocked both ends, chocked both sides, chks in, chks under, wedges in, wedges under, wheels wedged',
  ),
  row(
    'set|put|place|support|rest|lower on|onto stand',
    'on stands, on the stands, on axle stands, on its stands, on her stands, stands under, stands in, stands in place, sat on stands, sitting on stands, standing on stands, up on stands, down on stands, resting on stands, stands are taking the weight',
  ),
  row(
    'jack|raise|lift axle|chassis|vehicle|front|rear',
    'jacked, jacked up, up in the air, in the air, wheels off the ground, wheels off the deck',
  ),
  row(
    'lower axle|chassis|vehicle|bus|coach|front|rear',
    'wheels on the deck, wheels on the ground, wheels on the floor, back on the ground, back on the deck, back on the floor, back on her wheels, back on its wheels, off the stands, off stands, stands out, stands away, stands gone',
  ),
  row(
    'isolate|disconnect battery',
    'isolator off, isolator is off, batteries off, battery off, batts off, master switch off, battery isolated, batteries isolated, isolated the batteries, isolated the battery, power off',
    'reconnect',
  ),
  row(
    'connect|reconnect battery',
    'isolator on, batteries on, battery on, batts on, batteries back on, battery back on, batts back on, master switch on, power on, power back on',
  ),
  row(
    'start engine',
    'running, engine running, running nicely, running sweet, running fine, running lovely, running smooth, running again, started up, started first time, fired up, fired up first time, fired first time, fired up first turn, fired first turn, started first turn, she has started, started and running, idling, idling nicely, idles nicely, ticking over, ticking over nicely, engine is going, engine going, engine runs, engine is running, she runs',
    'run',
  ),
  row(
    'road test',
    'road tested, road test done, road test ok, road test good, road test fine, been on the road, been round the block, been up the road, drove it, drove it round the block, took it round the block, taken it round the block, been for a drive, been out on the road, rt done, rt ok, rt good, rt fine, r t done, r t ok, test drive done, test driven, test drove it',
  ),
  row(
    'check|test|inspect|look leak|weep',
    'no leaks, no leak, no weeps, no drips, leak free, all dry, dry, everything dry, everything is dry, dry everywhere, dry all round, dry underneath, dry under there, dry under it, dry under her, bone dry, nothing weeps, nothing weeping, nothing wet, nothing is wet, nothing drips, nothing dripping, nothing leaks, nothing leaking, nothing is leaking',
  ),
  row(
    'check|inspect|examine|look crack',
    'no cracks, no crack, crack free, nothing cracked, free of cracks, no cracks found, no cracks anywhere, no cracks in it, not a crack',
  ),
  row(
    'second|independent person|check|checks',
    'second check done, second checked, second check ok, second check fine, second check good, 2nd check done, 2nd check ok, independent check done',
  ),
  row(
    'bleed',
    'bled, bled up, bled through, all bled, no air left, no bubbles, no more air, no more bubbles, bubbles gone',
  ),
  row(
    'cool',
    'cooled down, cooled off, stone cold, cold enough, cool enough, cold now, cold to touch, cold enough to touch',
  ),
  row(
    'exhaust|drain|release|dump air',
    'air out, air is out, air dumped, tanks empty, tanks are empty, tanks drained, no air left, no air in it, air let out',
  ),
  row('build air', 'air up, air is up, air built up, air built, built up'),
  row('grease', 'greased, greased up, grease showing, all greased'),
  row('prime', 'primed, primed up, primed it'),
];
