// A message, an edit or a deletion that belongs to a job: handed to the desk in the job's queue.
import type { Delivery } from '../../shared/delivery.ts';
import type { Person } from '../../shared/settings.ts';
import { receiveMessages } from '../desk/office/moving.ts';
import { takeDelete, takeEdit } from '../desk/turn/amend.ts';
import { hear } from '../desk/turn/hear.ts';
import type { Said } from '../desk/turn/turn.ts';
import type { Floor } from './floor.ts';
import { keepFiles } from './keep-files.ts';
import { localIso } from './local-iso.ts';
import { messageId } from './message-id.ts';
import { withFiles } from './with-files.ts';

/**
 * Messages that a message moves to another job are written there first: should the machine stop in between, the
 * delivery is worked off again and finds them there.
 */
const handOn = async (floor: Floor, job: string, said: Said): Promise<void> => {
  if (!floor.jobNumbers().some((other) => other !== job && said.text.includes(other))) return;
  const known = await floor.shelved(job);
  if (!known) return;
  const vehicle = known.state.view.opened.vehicle.name;
  const turn = hear(known.state, said, await floor.momentFor(job, vehicle, { openJobs: true }));
  for (const each of turn.elsewhere ?? [])
    await floor.onJob(each.job, undefined, (there, moment) =>
      receiveMessages(there.state, each, moment),
    );
};

/** @param person who the settings know behind the delivery */
export const takeMessage = async (
  floor: Floor,
  job: string,
  delivery: Delivery,
  person: Person,
): Promise<void> => {
  const local = (iso: string): string => localIso(iso, floor.workshop.settings.zone);
  const common = {
    id: delivery.id,
    channel: delivery.channel,
    at: local(delivery.at),
    by: person.name,
    roles: person.roles,
  };
  if (delivery.kind === 'message') {
    const message = messageId(delivery);
    const said: Said = {
      ...common,
      at: local(delivery.typed ?? delivery.at),
      message,
      text: delivery.text,
      ...(delivery.typed ? { typed: local(delivery.typed) } : {}),
    };
    await handOn(floor, job, said);
    const channel = floor.channels.find(({ name }) => name === delivery.channel);
    const { store, log } = floor;
    const files = await keepFiles({ store, channel, log }, job, delivery, message, person.name);
    await floor.onJob(job, delivery, (before, moment) => {
      if (files.events.length === 0)
        return withFiles(hear(before.state, said, moment), files, said);
      const state = { ...before.state, events: [...before.state.events, ...files.events] };
      return withFiles(hear(state, said, moment), files, said);
    });
  } else if (delivery.kind === 'edit') {
    const edit = { ...common, message: messageId(delivery), text: delivery.text };
    await floor.onJob(job, delivery, (before, moment) => takeEdit(before.state, edit, moment));
  } else if (delivery.kind === 'delete') {
    const gone = { ...common, message: messageId(delivery) };
    await floor.onJob(job, delivery, (before, moment) => takeDelete(before.state, gone, moment));
  } else await floor.store.settle(delivery.id);
};
