// The answer to a question about the workshop: one card, or what has to be fetched first.
import type { JobView } from '../../job/view.ts';
import { type HistoryAsked, historyCard, type PastJob } from '../answers/history.ts';
import { peopleHours, peopleHoursCard } from '../answers/people-hours.ts';
import { summaryCard } from '../answers/summary.ts';
import { weekCard } from '../answers/week.ts';
import type { Card } from '../card.ts';
import type { PastJobs } from '../forecast/forecast.ts';
import { shiftStandingCard } from '../notes/shift-note.ts';
import type { Workshop } from '../workshop.ts';
import { personNamed } from '../workshop.ts';
import type { Asked, AskedKnown, Span } from './asked.ts';
import { isVehicle } from './asked.ts';
import { spanOf } from './span.ts';

/** What the shell has to load: the open jobs always, and jobs that are over, by vehicle or since a time. */
export type Needs =
  | 'open-jobs'
  | {
      readonly vehicle?: string;
      /** ISO: those closed since. */
      readonly since?: string;
    };

export type AskedGround = {
  readonly workshop: Workshop;
  /** ISO with offset. */
  readonly now: string;
  readonly asker: { readonly name: string; readonly roles: readonly string[] };
  readonly openJobs?: readonly JobView[] | undefined;
  readonly pastJobs?: readonly PastJob[] | undefined;
  readonly paces?: PastJobs | undefined;
};

export type AskedAnswer =
  | { readonly needs: Needs }
  /** `privately`: for the one who asks, and nobody else. */
  | { readonly card: Card; readonly privately: boolean };

/** Whether a person may see hours: by role, as the settings say. */
export const mayHours = (
  { settings }: Pick<Workshop, 'settings'>,
  { roles }: { readonly roles: readonly string[] },
): boolean =>
  (settings.hours?.['shown-to'] ?? ['controller', 'manager']).some((role) => roles.includes(role));

/** What a question is compared with. */
export const askedKnownOf = (
  { settings, plans }: Workshop,
  asker: string,
  jobs: readonly string[],
  inJob?: { readonly vehicle: string },
): AskedKnown => ({
  asker,
  person: (name) => personNamed(settings, name)?.name,
  plans: [...plans.values()].map(({ plan, title }) => ({ plan, title })),
  jobs,
  ...(inJob ? { inJob } : {}),
});

const SPAN_WORDS: Readonly<Record<Span, string>> = {
  today: 'today',
  yesterday: 'yesterday',
  'this-week': 'this week',
  'last-week': 'last week',
};

const told = (text: string): AskedAnswer => ({
  card: { text, blocks: [{ kind: 'text', text }] },
  privately: false,
});

const sinceOf = (from: number): string => new Date(from).toISOString();

const historyAnswer = (asked: HistoryAsked, ground: AskedGround): AskedAnswer => {
  const vehicle = asked.vehicle ?? '';
  if (!ground.openJobs || !ground.pastJobs) return { needs: { vehicle } };
  const past = ground.pastJobs.filter(({ view }) => isVehicle(view.opened.vehicle.name, vehicle));
  const open = ground.openJobs.filter((view) => isVehicle(view.opened.vehicle.name, vehicle));
  const { zone } = ground.workshop.settings;
  return { card: historyCard(asked, past, open, past.length, zone), privately: false };
};

/** Answers, or says what it needs first; it is then called again with that. */
export const answerAsked = (asked: Asked, ground: AskedGround): AskedAnswer => {
  const { workshop, now, asker, openJobs, pastJobs } = ground;
  const { settings, calendar } = workshop;
  const hours = mayHours(workshop, asker);
  const at = Date.parse(now);
  switch (asked.ask) {
    case 'jobs': {
      if (!openJobs) return { needs: 'open-jobs' };
      const past = ground.paces ? { past: ground.paces } : {};
      return {
        card: summaryCard(openJobs, asked, { settings, now, hours, ...past }),
        privately: false,
      };
    }
    case 'note': {
      if (!openJobs) return { needs: 'open-jobs' };
      const card = shiftStandingCard(openJobs, {
        workshop,
        now,
        hours,
        ...(ground.paces ? { past: ground.paces } : {}),
      });
      return card
        ? { card, privately: false }
        : told('No job is open, so there is nothing to hand on.');
    }
    case 'hours': {
      const own = asked.person === asker.name;
      if (!hours && !own)
        return told(
          'Hours of people are shown to the roles that the settings name. Your own: ask "my hours".',
        );
      const span = spanOf(asked.span, at, settings.zone);
      if (!openJobs || !pastJobs) return { needs: { since: sinceOf(span.from) } };
      const views = [...openJobs, ...pastJobs.map(({ view }) => view)];
      const title = `${asked.person ? `Hours of ${asked.person}` : 'Hours'} ${SPAN_WORDS[asked.span]}`;
      const counted = peopleHours(views, settings, calendar, span, at);
      return { card: peopleHoursCard(title, counted, asked.person), privately: true };
    }
    case 'week': {
      const span = spanOf(asked.span, at, settings.zone);
      if (!openJobs || !pastJobs) return { needs: { since: sinceOf(span.from) } };
      const card = weekCard(openJobs, pastJobs, { zone: settings.zone, now, hours, span });
      return card
        ? { card, privately: false }
        : told(
            `Nothing was opened, worked on or closed ${SPAN_WORDS[asked.span]}, from ${span.first} to ${span.last}.`,
          );
    }
    case 'history':
      return historyAnswer(asked, ground);
  }
};
