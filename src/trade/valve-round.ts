/**
 * Which valve clearances can be set at which crank position, and the shortest round that sets each of them once.
 *
 * A valve can be set while its follower rests on the base circle of the cam. Counted in degrees of crank after the
 * cylinder's firing top dead centre, with ordinary valve timing:
 *
 * - the exhaust opens from about 120 and is closed by about 390, so it can be set from 420 on to 100 of the next turn;
 * - the inlet opens from about 330 and is closed by about 600, so it can be set from 620 on to 300.
 *
 * The ends leave 20 to 30 degrees for the quiet ramps of the cam. They give the well-known six-cylinder round
 * (Denton, Automobile Mechanical and Electrical Systems; US Army OD1001). The timing figures are common practice, no
 * source. An engine with late inlet closing, or with extra brake lobes on its exhaust cam, needs its maker's windows.
 */
import { CYCLE, type Engine, type Valve, type ValveKind, withinCycle } from './engine-layout.ts';
import { found, type Result, refused } from './result.ts';

/** Degrees of crank after the cylinder's own firing top dead centre; `to` is above `from`, by less than 720. */
export type ValveWindow = { readonly from: number; readonly to: number };
export type ValveWindows = Readonly<Record<ValveKind, ValveWindow>>;

/** The ends count as inside. Common practice, no source: see the head of this file. */
export const ORDINARY_WINDOWS: ValveWindows = {
  inlet: { from: 620, to: 1020 },
  exhaust: { from: 420, to: 820 },
};

/** One place where the crank stops. */
export type CrankStop = {
  /** The cylinder that stands at firing top dead centre. */
  readonly cylinder: number;
  /** The cylinders whose valves are both just open (on the rock) here, by which the position can be recognised. */
  readonly onTheRock: readonly number[];
  /** Degrees to turn the crank, in its running direction, from the stop before (from where it stands, at the first). */
  readonly turn: number;
  /** Valves to be set here, each valve of the round at one stop only. */
  readonly set: readonly Valve[];
};

export type ValveRound = { readonly stops: readonly CrankStop[]; readonly answer: string };

/** Where the crank stops and what has been done, all optional. */
export type RoundOptions = {
  /** Names of the valves already set. */
  readonly done?: readonly string[];
  /** The cylinder now at firing top dead centre; the round begins there if that costs no extra stop. */
  readonly standsAt?: number;
  readonly windows?: ValveWindows;
};

/** Dividing 720 by 7 leaves dust; no crank is turned to a billionth of a degree. */
const DUST = 1e-9;

const BY_HAND = 'Crank turned by hand, in its running direction, the start locked out';

function caution(windows: ValveWindows): string {
  const timing =
    windows === ORDINARY_WINDOWS
      ? "Ordinary valve timing assumed: late inlet closing or brake lobes need the maker's windows"
      : 'Windows of the plan';
  return `${timing}. ${BY_HAND}.`;
}

/** Whether a valve can be set with the crank at an angle (degrees, 0 where the first of the order fires). */
export function canBeSet(
  engine: Engine,
  valve: Valve,
  angle: number,
  windows: ValveWindows,
): boolean {
  const after = withinCycle(angle - (engine.firesAt.get(valve.cylinder) ?? 0));
  const { from, to } = windows[valve.kind];
  return withinCycle(after - from + DUST) <= to - from + 2 * DUST;
}

/**
 * The valves that can be set with one cylinder at its firing top dead centre.
 * Errors: a cylinder that the engine does not have.
 */
export function settableAt(
  engine: Engine,
  cylinder: number,
  windows: ValveWindows = ORDINARY_WINDOWS,
): Result<{ readonly valves: readonly Valve[]; readonly answer: string }> {
  const angle = engine.firesAt.get(cylinder);
  if (angle === undefined) return noSuchCylinder(engine, cylinder);
  const valves = engine.valves.filter((valve) => canBeSet(engine, valve, angle, windows));
  const basis = `with cylinder ${cylinder} at firing top dead centre, firing order ${engine.firingOrder.join('-')}`;
  return found({
    valves,
    answer: `${listValves(engine, valves)} can be set ${basis}. ${caution(windows)}`,
  });
}

/**
 * The fewest stops that set every valve still to do, each once, and the turn from each stop to the next.
 *
 * Stops are firing top dead centres, since those can be found. The choice is exact: whichever stop is taken first,
 * the rest is a line of intervals, and the fewest points that meet every interval of a line are found by going to
 * the last allowed point of the interval that ends first.
 *
 * Errors: a name that is no valve of this engine; a window that no stop reaches; windows that do not make sense.
 */
export function valveRound(engine: Engine, options: RoundOptions = {}): Result<ValveRound> {
  const { done = [], standsAt, windows = ORDINARY_WINDOWS } = options;
  for (const { from, to } of [windows.inlet, windows.exhaust]) {
    if (!(to >= from && to - from < CYCLE)) {
      return refused(
        `A window from ${from} to ${to} degrees is not part of one cycle.`,
        'Give the end after the beginning, less than 720 degrees on.',
      );
    }
  }
  const unknown = done.find((name) => !engine.valves.some((valve) => valve.name === name));
  if (unknown !== undefined) {
    return refused(
      `"${unknown}" is not a valve of this engine.`,
      `Name it like "${engine.valves[0]?.name}".`,
    );
  }
  if (standsAt !== undefined && !engine.firesAt.has(standsAt))
    return noSuchCylinder(engine, standsAt);
  const todo = engine.valves.filter((valve) => !done.includes(valve.name));
  if (todo.length === 0) {
    return found({ stops: [], answer: `All ${engine.valves.length} valve clearances are set.` });
  }
  const angles = [...new Set(engine.firesAt.values())].sort((a, b) => a - b);
  const unreachable = todo.find(
    (v) => !angles.some((angle) => canBeSet(engine, v, angle, windows)),
  );
  if (unreachable) {
    return refused(
      `${unreachable.name} cannot be set at any firing top dead centre with the windows given.`,
      'Set it by its own cam: turn until the lobe points away from the follower.',
    );
  }
  const start = standsAt === undefined ? 0 : (engine.firesAt.get(standsAt) ?? 0);
  const chosen = fewestStops(engine, todo, angles, start, windows);
  const stops = assign(engine, todo, chosen, start, windows);
  return found({ stops, answer: sayRound(engine, stops, todo.length, windows) });
}

function fewestStops(
  engine: Engine,
  todo: readonly Valve[],
  angles: readonly number[],
  start: number,
  windows: ValveWindows,
): readonly number[] {
  const inTurn = [...angles].sort((a, b) => withinCycle(a - start) - withinCycle(b - start));
  let best: readonly number[] = inTurn;
  for (const [place, first] of inTurn.entries()) {
    const chosen = [first];
    // Seen from the first stop, angles run from 0 to 720 and no window left over reaches across the ends.
    const ahead = [...inTurn.slice(place), ...inTurn.slice(0, place)];
    const open = (valve: Valve) => !chosen.some((angle) => canBeSet(engine, valve, angle, windows));
    for (let left = todo.filter(open); left.length > 0; left = left.filter(open)) {
      const lastOf = (valve: Valve) =>
        ahead.findLastIndex((angle) => canBeSet(engine, valve, angle, windows));
      const next = ahead[Math.min(...left.map(lastOf))];
      if (next === undefined) break;
      chosen.push(next);
    }
    if (chosen.length < best.length) best = chosen;
  }
  return [...best].sort((a, b) => withinCycle(a - start) - withinCycle(b - start));
}

function assign(
  engine: Engine,
  todo: readonly Valve[],
  angles: readonly number[],
  start: number,
  windows: ValveWindows,
): readonly CrankStop[] {
  const taken = new Set<Valve>();
  let before = start;
  const stops: CrankStop[] = [];
  for (const angle of angles) {
    const set = todo.filter((v) => !taken.has(v) && canBeSet(engine, v, angle, windows));
    for (const valve of set) taken.add(valve);
    const cylinders = [...engine.firesAt];
    const at = (offset: number) =>
      cylinders
        .filter(([, fires]) => withinCycle(fires - angle + offset + DUST) <= 2 * DUST)
        .map(([cylinder]) => cylinder);
    stops.push({
      cylinder: at(0)[0] ?? 0,
      onTheRock: at(CYCLE / 2),
      turn: withinCycle(angle - before),
      set,
    });
    before = angle;
  }
  return stops;
}

function sayRound(
  engine: Engine,
  stops: readonly CrankStop[],
  todo: number,
  windows: ValveWindows,
): string {
  const sentences = stops.map((stop) => {
    const rock = stop.onTheRock.length > 0 ? ` (${stop.onTheRock.join(', ')} on the rock)` : '';
    const turn = stop.turn === 0 ? '' : `turn ${Number(stop.turn.toFixed(1))}° on, `;
    return `${turn}cylinder ${stop.cylinder} at firing top dead centre${rock}: ${listValves(engine, stop.set)}`;
  });
  const count = `${todo} ${todo < engine.valves.length ? 'left' : 'valves'} in ${stops.length} ${stops.length === 1 ? 'stop' : 'stops'}`;
  const basis = `Firing order ${engine.firingOrder.join('-')}`;
  return `${count}: ${sentences.join('; ')}. ${basis}. ${caution(windows)}`;
}

/** "inlet 1, 2, 4 and exhaust 1, 3"; "inlet 1 (number 2)" where only one of several at that cylinder is meant. */
function listValves(engine: Engine, valves: readonly Valve[]): string {
  const parts = (['inlet', 'exhaust'] as const).flatMap((kind) => {
    const named = [...engine.firingOrder]
      .sort((a, b) => a - b)
      .flatMap((cylinder) => {
        const own = (valve: Valve) => valve.kind === kind && valve.cylinder === cylinder;
        const meant = valves.filter(own);
        if (meant.length === 0) return [];
        const all = engine.valves.filter(own).length === meant.length;
        return [
          all ? `${cylinder}` : `${cylinder} (number ${meant.map((v) => v.number).join(', ')})`,
        ];
      });
    return named.length > 0 ? [`${kind} ${named.join(', ')}`] : [];
  });
  return parts.length > 0 ? parts.join(' and ') : 'no valve';
}

function noSuchCylinder(engine: Engine, cylinder: number) {
  return refused(
    `This engine has no cylinder ${cylinder}.`,
    `Name one of ${[...engine.firingOrder].sort((a, b) => a - b).join(', ')}.`,
  );
}
