// Who has the job and when it is promised: given, changed, taken over.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import { handoverCard } from '../answers/handover.ts';
import { phaseOf, vehicleNow } from '../answers/where.ts';
import { promisedTime } from '../opening/parse-opening.ts';
import { mayDo, mayTakeOver } from '../roles.ts';
import { clockTime, ended, list } from '../say.ts';
import { type Asker, asPerson, type Obeyed, only, says } from '../turn/obeyed.ts';
import type { JobState, Moment } from '../turn/turn.ts';
import { personNamed } from '../workshop.ts';

type Changed = Omit<Extract<JobEvent, { kind: 'job-changed' }>, 'id' | 'at' | 'by' | 'kind'>;

const changed = (asker: Asker, moment: Moment, what: Changed): JobEvent => ({
  id: `${asker.id}:changed`,
  at: moment.now,
  by: asker.by,
  kind: 'job-changed',
  ...what,
});

const notHere = (state: JobState, act: Act): string | undefined =>
  act.job !== undefined && act.job !== state.view.job
    ? `That names job ${act.job}, and this is job ${state.view.job}. Nothing was changed. Say it under job ${act.job}, or in the channel.`
    : undefined;

/** "give 1042 to Mo": the technician of the job. */
export const assign = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const elsewhere = notHere(state, act);
  if (elsewhere) return only(elsewhere);
  const may = mayDo(asPerson(asker), 'change-job');
  if (!may.ok) return only(may.says);
  const person = act.by === undefined ? undefined : personNamed(moment.workshop.settings, act.by);
  const technicians = moment.workshop.settings.people.filter(({ roles }) =>
    roles.includes('technician'),
  );
  const names = list(technicians.map(({ name }) => name));
  if (!person)
    return only(
      `Say who gets job ${view.job}: "give it to ${technicians[0]?.name ?? 'NAME'}". Technicians: ${names}.`,
    );
  if (!person.roles.includes('technician'))
    return only(
      `${person.name} is no technician in the settings. Give job ${view.job} to one of ${names}.`,
    );
  if (view.technician === person.name)
    return only(`Job ${view.job} is with ${person.name} already.`);
  return {
    events: [changed(asker, moment, { technician: person.name })],
    pieces: [
      says(
        `Job ${view.job} is with ${person.name} now${view.technician ? `, before with ${view.technician}` : ''}.`,
      ),
    ],
  };
};

/** "controller Kim": who is told of stops first. */
export const setController = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const may = mayDo(asPerson(asker), 'change-job');
  if (!may.ok) return only(may.says);
  const person = act.by === undefined ? undefined : personNamed(moment.workshop.settings, act.by);
  if (!person?.roles.includes('controller'))
    return only(
      `${person?.name ?? 'That person'} is no controller in the settings. Name one of ${list(moment.workshop.settings.people.filter(({ roles }) => roles.includes('controller')).map(({ name }) => name))}.`,
    );
  return {
    events: [changed(asker, moment, { controller: person.name })],
    pieces: [says(`${person.name} is the controller of job ${state.view.job} now.`)],
  };
};

/** "promised friday 14:00"; an empty note takes the promise back. */
export const promise = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const elsewhere = notHere(state, act);
  if (elsewhere) return only(elsewhere);
  const may = mayDo(asPerson(asker), 'change-job');
  if (!may.ok) return only(may.says);
  const { zone } = moment.workshop.settings;
  if (!act.note)
    return {
      events: [changed(asker, moment, { promised: null })],
      pieces: [says(`Job ${state.view.job} is promised for no time now.`)],
    };
  const at = promisedTime(act.note, moment.now, zone);
  if (!at)
    return only(
      `"${act.note.slice(0, 40)}" is no time. Write it as "promised friday 14:30" or "promised 2026-12-01 14:30".`,
    );
  return {
    events: [changed(asker, moment, { promised: at })],
    pieces: [says(`Job ${state.view.job} is promised for ${clockTime(at, moment.now, zone)}.`)],
  };
};

/** "taking over": the next technician has the handover and the job. */
export const takeOver = (state: JobState, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const may = mayTakeOver(asPerson(asker));
  if (!may.ok) return only(may.says);
  if (view.status !== 'open')
    return only(`Job ${view.job} is ${view.status}; there is nothing to take over.`);
  const now = ended(`Vehicle now: ${vehicleNow(view, moment.around)}`);
  const phase = phaseOf(view);
  const { zone } = moment.workshop.settings;
  const handover = handoverCard(view, moment.now, zone, {
    events: state.events,
    around: moment.around,
  });
  return {
    events: [
      {
        id: `${asker.id}:handed-over`,
        at: moment.now,
        by: asker.by,
        kind: 'handed-over',
        to: asker.by,
        ...(phase ? { phase } : {}),
        says: handover.text,
      },
      ...(view.technician === asker.by ? [] : [changed(asker, moment, { technician: asker.by })]),
    ],
    pieces: [
      says(
        `${asker.by} has taken over job ${view.job}${view.technician && view.technician !== asker.by ? ` from ${view.technician}` : ''}. ${now}`,
      ),
    ],
  };
};
