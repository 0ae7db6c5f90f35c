import { describe, expect, it } from 'vitest';
import { floorIndex } from '../../src/floor/floor-index.ts';
import { indexOf } from '../store/sample.ts';

describe('the index of the floor', () => {
  it('finds jobs by vehicle however it is spelled, closed ones too', () => {
    const index = floorIndex();
    index.set(indexOf('1', { vehicle: 'Bus 7' }));
    index.set(indexOf('2', { vehicle: ' bus 7 ', status: 'closed' }));
    index.set(indexOf('3', { vehicle: 'Bus 70' }));
    expect(index.onVehicle('BUS 7').map(({ job }) => job)).toEqual(['1', '2']);
    expect(index.onVehicle('bus 8')).toEqual([]);
  });

  it('a job that was on the wrong vehicle is found on the right one only', () => {
    const index = floorIndex();
    index.set(indexOf('1', { vehicle: 'Bus 7' }));
    index.set(indexOf('1', { vehicle: 'Bus 8' }));
    expect(index.onVehicle('Bus 7')).toEqual([]);
    expect(index.onVehicle('Bus 8').map(({ job }) => job)).toEqual(['1']);
  });

  it('a job is open until it is not, and what belongs to no job never is', () => {
    const index = floorIndex();
    index.set(indexOf('1'));
    index.set(indexOf('_workshop'));
    expect(index.open().map(({ job }) => job)).toEqual(['1']);
    expect(index.numbers()).toEqual(['1']);
    index.set(indexOf('1', { status: 'closed' }));
    expect(index.open()).toEqual([]);
    expect(index.get('1')?.status).toBe('closed');
  });

  it('the list of numbers is the same one until a job is new', () => {
    const index = floorIndex();
    index.set(indexOf('1'));
    const numbers = index.numbers();
    index.set(indexOf('1', { technician: 'Kim' }));
    expect(index.numbers()).toBe(numbers);
    index.set(indexOf('2'));
    expect(index.numbers()).toEqual(['1', '2']);
  });
});
