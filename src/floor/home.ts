// The page of one person on a channel that has one: made when it is looked at, and again when something of theirs changes.
import type { Delivery } from '../../shared/delivery.ts';
import { homeCard, strangersHome } from '../desk/answers/home.ts';
import { summaryCard } from '../desk/answers/summary.ts';
import type { Card } from '../desk/card.ts';
import { openingForm } from '../desk/opening/opening-form.ts';
import type { JobState } from '../desk/turn/turn.ts';
import { personBehind } from '../desk/workshop.ts';
import type { Floor } from './floor.ts';

/** @returns the page as it stands now; for somebody who is not in the settings what they can do */
export const homeFor = async (
  floor: Floor,
  id: string,
  channel: Delivery['channel'],
): Promise<Card> => {
  const { settings } = floor.workshop;
  const person = personBehind(settings, channel, id);
  if (!person) return strangersHome();
  const jobs: JobState[] = [];
  for (const { job } of await floor.openJobs()) {
    const found = await floor.legible(job);
    if (found) jobs.push(found.state);
  }
  const { now, paces } = await floor.momentFor(undefined, undefined, { openJobs: true });
  const seesAll = person.roles.includes('manager') || person.roles.includes('controller');
  const hours = (settings.hours?.['shown-to'] ?? ['controller', 'manager']).some((role) =>
    person.roles.includes(role),
  );
  const summary = seesAll
    ? summaryCard(
        jobs.map(({ view }) => view),
        { ask: 'jobs', states: [] },
        { settings, now, hours, ...(paces ? { past: paces } : {}) },
      )
    : undefined;
  const card = homeCard(person, jobs, now, settings.zone, summary);
  return {
    ...card,
    actions: (card.actions ?? []).map((action) =>
      action.intent.do === 'open-job'
        ? { ...action, form: openingForm(floor.workshop, {}) }
        : action,
    ),
  };
};
