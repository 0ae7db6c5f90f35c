import { describe, expect, it } from 'vitest';
import { picturePng } from '../../src/chat/picture-png.ts';
import { timelinePicture } from '../../src/report/picture/timeline.ts';
import { at } from '../job/story.ts';
import { viewOf, WORK, ZONE } from '../report/story.ts';

const picture = timelinePicture(viewOf(WORK), WORK, { now: at('10:00'), zone: ZONE });

describe('a picture as PNG', () => {
  const made = picturePng(picture, 2);

  it('says what to do on a machine without fonts, else gives a picture', () => {
    expect(made.ok || /Install/u.test(made.doThis)).toBe(true);
  });

  it.skipIf(!made.ok)(
    'is as large as the picture times the scale (left out: this machine has no font)',
    () => {
      if (!made.ok) return;
      // The head of a PNG: eight fixed bytes, then the chunk IHDR with width and height. Source: W3C PNG, 5.2 and 11.2.1.
      const head = Buffer.from(made.png);
      expect(head.subarray(0, 8)).toEqual(
        Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
      );
      expect(head.readUInt32BE(16)).toBe(720);
      expect(Math.abs(head.readUInt32BE(20) - picture.height * 2)).toBeLessThanOrEqual(1);
    },
  );
});
