// People and the bot itself joining and leaving: said only where somebody has to do something.
import type { Delivery } from '../../shared/delivery.ts';
import type { Card } from '../desk/card.ts';
import { personBehind } from '../desk/workshop.ts';
import type { Floor } from './floor.ts';

type Roll = Extract<Delivery, { kind: 'roll' }>;

const plain = (text: string, tells: readonly string[] = []): Card => ({
  text,
  blocks: [{ kind: 'text', text }],
  ...(tells.length > 0 ? { tells } : {}),
});

const WELCOME =
  'Chargehand keeps the record of jobs here. Type "open job" to begin one, "open jobs" for those that are open, "help" for what else can be typed.';

export const takeRoll = async (floor: Floor, delivery: Roll): Promise<void> => {
  const { settings } = floor.workshop;
  const controllers = settings.people
    .filter(({ roles }) => roles.includes('controller'))
    .map(({ name }) => name);
  if (delivery.own && delivery.change === 'joined') {
    const { team, place } = delivery;
    const key = `joined:${delivery.id}`;
    return floor.say(key, delivery.channel, { team, place }, plain(WELCOME), delivery.id);
  }
  if (delivery.own && delivery.change === 'left') {
    floor.log('warn', 'the bot was taken out of a place and hears nothing from there', {
      channel: delivery.channel,
      place: delivery.place,
    });
    const jobs = (await floor.openJobs()).filter(({ threads }) =>
      threads.some((ref) => ref.channel === delivery.channel && ref.place === delivery.place),
    );
    await floor.tellControllers(
      delivery,
      plain(
        `Chargehand was taken out of a channel and hears nothing from there any more${jobs.length > 0 ? `: job ${jobs.map(({ job }) => job).join(', ')} goes on unheard` : ''}. Invite it again, or record on the bench.`,
      ),
    );
    return floor.store.settle(delivery.id);
  }
  const person = personBehind(settings, delivery.channel, delivery.person);
  if (delivery.change === 'removed' && person) {
    const jobs = (await floor.openJobs()).filter(({ technician }) => technician === person.name);
    if (jobs.length > 0)
      await floor.tellControllers(
        delivery,
        plain(
          `The account of ${person.name} was removed. Still with ${person.name}: ${jobs.map(({ job, vehicle }) => `job ${job}, ${vehicle}`).join('; ')}. Give it to somebody: "give ${jobs[0]?.job ?? ''} to …".`,
          controllers.filter((name) => name !== person.name),
        ),
      );
  }
  return floor.store.settle(delivery.id);
};
