// Who is on shift and may settle a stop.
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../shared/settings.ts';
import { calendarOf } from '../../src/desk/calendar.ts';
import { whoMaySettle } from '../../src/desk/on-shift.ts';

const ALL = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const settings: Settings = {
  workshop: 'Shifts',
  zone: 'Europe/London',
  people: [
    { name: 'Kim', roles: ['manager'] },
    { name: 'Robin', roles: ['controller'], shifts: ['early'] },
    { name: 'Sam', roles: ['controller'], shifts: ['night'] },
    { name: 'Wen', roles: ['controller'], shifts: ['early', 'night'] },
    { name: 'Ada', roles: ['technician'] },
  ],
  shifts: [
    { name: 'early', days: [...ALL], from: '06:00', to: '14:00' },
    { name: 'night', days: [...ALL], from: '22:00', to: '06:00' },
  ],
};
const calendar = calendarOf(settings);
const at = (now: string, controller: string | undefined = undefined) =>
  whoMaySettle(settings, calendar, { controller }, now);

describe('whoMaySettle', () => {
  it('names those on shift, the controller of the job first, managers last', () => {
    expect(at('2026-03-10T07:00:00Z', 'Wen')).toEqual({
      names: ['Wen', 'Robin', 'Kim'],
      onShift: true,
    });
  });

  it('leaves out who is not on shift, the controller of the job too', () => {
    expect(at('2026-03-10T23:00:00Z', 'Robin').names).toEqual(['Sam', 'Wen', 'Kim']);
  });

  it('knows the night that began yesterday', () => {
    expect(at('2026-03-11T05:59:00Z').names).toEqual(['Sam', 'Wen', 'Kim']);
    expect(at('2026-03-11T06:00:00Z').names).toEqual(['Robin', 'Wen', 'Kim']);
  });

  it('the night of the clock change ends at 06:00 by the clock, which is 05:00 UTC', () => {
    expect(at('2025-03-30T04:59:00Z').names).toContain('Sam');
    expect(at('2025-03-30T05:00:00Z').names).not.toContain('Sam');
  });

  it('where nobody is on shift names all, and says so', () => {
    expect(at('2026-03-10T15:00:00Z', 'Robin')).toEqual({
      names: ['Robin', 'Sam', 'Wen', 'Kim'],
      onShift: false,
    });
  });

  it('without shifts everybody counts as there', () => {
    expect(
      whoMaySettle(settings, undefined, { controller: 'Sam' }, '2026-03-10T15:00:00Z'),
    ).toEqual({ names: ['Sam', 'Robin', 'Wen', 'Kim'], onShift: true });
  });
});
