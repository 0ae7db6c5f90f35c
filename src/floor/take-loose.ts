// What is said outside a job's thread: a command for the workshop, a report for somebody's only job, or talk.
import type { Delivery } from '../../shared/delivery.ts';
import type { Person } from '../../shared/settings.ts';
import { helpCard } from '../desk/answers/help.ts';
import type { Card, Post } from '../desk/card.ts';
import { openingNeeds, openJob } from '../desk/opening/open-job.ts';
import { openingForm } from '../desk/opening/opening-form.ts';
import { type Opening, parseOpening } from '../desk/opening/parse-opening.ts';
import { mayDo } from '../desk/roles.ts';
import { chooseJobCard, type OpenJob, route } from '../desk/route.ts';
import { list } from '../desk/say.ts';
import { figurePiece } from '../desk/turn/figure-piece.ts';
import { asAmended, takeEarly } from './early-amendments.ts';
import type { Floor } from './floor.ts';
import { localIso } from './local-iso.ts';
import { messageId } from './message-id.ts';
import { setAside } from './set-aside.ts';
import { takeQuestion, usualAsked } from './take-question.ts';
import { reportAsked, takeHoursAhead } from './take-report.ts';

const plain = (text: string): Card => ({ text, blocks: [{ kind: 'text', text }] });

export const takeLoose = async (floor: Floor, arrived: Delivery, person: Person): Promise<void> => {
  const { store } = floor;
  if (arrived.kind === 'edit' || arrived.kind === 'delete') await takeEarly(floor, arrived);
  const delivery = arrived.kind === 'message' ? await asAmended(floor, arrived) : arrived;
  if (delivery?.kind !== 'message' && delivery?.kind !== 'command') return store.settle(arrived.id);
  const entries = await floor.openJobs();
  const jobs: OpenJob[] = (await floor.viewsOf(entries)).map((view) => ({
    job: view.job,
    vehicle: view.opened.vehicle.name,
    plan: view.plan,
    ...(view.technician ? { technician: view.technician } : {}),
  }));
  const text = delivery.kind === 'command' && delivery.text.trim() === '' ? 'help' : delivery.text;
  const report = reportAsked(text, delivery.at, floor);
  if (report?.job !== undefined)
    return floor.toJob(
      report.job,
      delivery.kind === 'command' ? asMessage(delivery, text) : delivery,
      person,
    );
  const onJob = jobs.some(({ technician }) => technician === person.name);
  if (report?.command === 'hours-ahead' || (report?.command === 'forecast' && !onJob))
    return takeHoursAhead(floor, delivery);
  const routed = route(text, delivery.at, person, jobs, floor.workshop);
  switch (routed.kind) {
    case 'job':
      return floor.toJob(
        routed.job,
        delivery.kind === 'command' ? asMessage(delivery, text) : delivery,
        person,
      );
    case 'choose':
      await setAside(
        store,
        delivery.id,
        delivery.kind === 'command' ? asMessage(delivery, text) : delivery,
      );
      await floor.reply(delivery, chooseJobCard(text, routed.jobs, delivery.id));
      break;
    case 'not-open':
      await floor.reply(
        delivery,
        plain(
          `Job ${routed.job} is not open, so nothing was recorded. ${
            jobs.length > 0
              ? `Open: ${list(
                  jobs.map(({ job, vehicle }) => `${job} (${vehicle})`),
                  6,
                )}.`
              : 'No job is open.'
          } Write the right number in front, or open the job.`,
        ),
      );
      break;
    case 'no-job':
      await floor.reply(
        delivery,
        plain(
          'No job is open, so nothing was recorded. Open one: type "open job", or use the form.',
        ),
      );
      break;
    case 'question':
      return takeQuestion(floor, delivery, routed.asked, person);
    case 'workshop':
      return workshopCommand(floor, delivery, text, routed.act.command ?? 'help', person);
    case 'talk': {
      const { workshop } = floor;
      const now = localIso(floor.clock(), workshop.settings.zone);
      const figure = figurePiece(text, [], undefined, person, { workshop, now });
      if (figure) await floor.reply(delivery, figure.card);
      else if (delivery.kind === 'command') await floor.reply(delivery, helpCard());
      break;
    }
  }
  await store.settle(delivery.id);
};

/** A slash command is worked off as a message of its own. */
const asMessage = (delivery: Extract<Delivery, { kind: 'command' }>, text: string): Delivery => ({
  ...delivery,
  kind: 'message',
  message: `command-${delivery.id}`,
  text,
});

const workshopCommand = async (
  floor: Floor,
  delivery: Delivery,
  text: string,
  command: string,
  person: Person,
): Promise<void> => {
  if (command === 'open-job')
    return openByWords(floor, delivery, parseOpening(text, floor.workshop, floor.clock()), person);
  const asked = usualAsked(command);
  if (asked) return takeQuestion(floor, delivery, asked, person);
  await floor.reply(delivery, helpCard());
  await floor.store.settle(delivery.id);
};

/** The sign that the opening is recorded goes out like every other: kept, and again where the platform did not take it. */
const signOn = (delivery: Delivery): readonly Post[] =>
  delivery.kind === 'message'
    ? [
        {
          key: `sign:${messageId(delivery)}:recorded`,
          to: { where: 'thread' },
          sign: { message: messageId(delivery), mark: 'recorded' },
          edit: false,
          urgent: false,
        },
      ]
    : [];

/** Opens the job if everything was said, else shows the form with what was. */
export const openByWords = async (
  floor: Floor,
  delivery: Delivery,
  opening: Opening,
  person: Person,
  problems: readonly string[] = [],
): Promise<void> => {
  const may = mayDo(person, 'open-job');
  if (!may.ok) {
    await floor.reply(delivery, plain(may.says));
    return floor.store.settle(delivery.id);
  }
  const needs = [
    ...problems,
    ...openingNeeds(opening, await floor.momentFor(undefined, undefined)),
  ];
  if (needs.length > 0 || !opening.job) {
    const says = `The job is not open yet. ${needs.join(' ')}`;
    await floor.reply(delivery, {
      text: says,
      blocks: [
        { kind: 'text', text: 'The job is not open yet.' },
        { kind: 'list', items: needs },
      ],
      actions: [
        {
          label: 'Open a job',
          weight: 'main',
          intent: { do: 'open-job' },
          form: openingForm(floor.workshop, opening),
        },
      ],
    });
    return floor.store.settle(delivery.id);
  }
  const by = {
    id: delivery.id,
    by: person.name,
    roles: person.roles,
    at: localIso(delivery.at, floor.workshop.settings.zone),
  };
  const opened = await floor.newJob(
    opening.job,
    delivery,
    (moment) => {
      const turn = openJob(opening, by, moment);
      return { ...turn, posts: [...turn.posts, ...signOn(delivery)] };
    },
    opening.vehicle,
  );
  if (!opened) {
    await floor.reply(delivery, plain(`Job ${opening.job} is there already. Use another number.`));
    return floor.store.settle(delivery.id);
  }
  floor.log('info', 'a job was opened', {
    job: opening.job,
    message: delivery.kind === 'message' ? messageId(delivery) : delivery.id,
  });
};
