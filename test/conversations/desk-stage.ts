// The conversation on the desk alone: pure, no channel, no store.
import type { Card, Post } from '../../src/desk/card.ts';
import { openJob } from '../../src/desk/opening/open-job.ts';
import { distanceSaid } from '../../src/desk/orders/distance-said.ts';
import { takeDelete, takeEdit } from '../../src/desk/turn/amend.ts';
import { hear } from '../../src/desk/turn/hear.ts';
import { takeTap } from '../../src/desk/turn/tap.ts';
import { tick } from '../../src/desk/turn/tick.ts';
import type { JobState, Moment, Turn } from '../../src/desk/turn/turn.ts';
import { workshopOf } from '../../src/desk/workshop.ts';
import { REPORTS } from '../../src/report/reports.ts';
import type { MakeStage } from './stage.ts';

export const deskStage: MakeStage = async (script, plan, settings, start) => {
  const workshop = workshopOf(settings, [plan]);
  const around = {
    people: settings.people.map(({ name, roles, competences }) => ({
      name,
      roles,
      ...(competences ? { competences } : {}),
    })),
    tools: script.tools,
  };
  let state: JobState;
  let again: string | undefined;
  let number = 0;
  const shown = new Map<string, { readonly to: string; readonly card: Card }>();
  let fresh: { to: string; text: string }[] = [];
  let news = 0;
  let sign: 'recorded' | 'asked' | undefined;
  const messages = new Map<string, string>();

  const moment = (now: string): Moment => ({
    workshop,
    now,
    around,
    openJobs: state ? [state.view] : [],
    paces: new Map(),
    reports: REPORTS,
    pastJobs: [],
    jobNumbers: state ? [script.job] : [],
    holdBack: 20,
  });
  const takePosts = (posts: readonly Post[]): void => {
    for (const post of posts) {
      if (post.sign && post.sign.mark !== 'unrecorded') sign = post.sign.mark;
      if (!post.card) continue;
      const to = post.to.where === 'channel' ? 'channel' : 'thread';
      if (shown.has(post.key) && !post.edit) continue;
      if (!shown.has(post.key)) news += 1;
      shown.set(post.key, { to, card: post.card });
      if (post.key !== 'sheet') fresh.push({ to, text: post.card.text });
    }
  };
  const take = (turn: Turn): void => {
    state = turn.state;
    again = turn.again ?? again;
    takePosts(turn.posts);
  };
  const person = (name: string) => {
    const found = settings.people.find((each) => each.name === name);
    if (!found) throw new Error(`"${name}" is not among the people of the conversation.`);
    return found;
  };
  const technician = script.people.find((each) => each.roles.includes('technician'))?.name;
  const odometer = script.odometer === undefined ? undefined : distanceSaid(script.odometer);
  const opener =
    script.people.find((each) => each.roles.includes('controller')) ?? script.people[0];
  take(
    openJob(
      {
        job: script.job,
        vehicle: script.vehicle,
        plan: plan.plan,
        positions: script.positions,
        ...(technician ? { technician } : {}),
        ...(odometer ? { reading: odometer } : {}),
      },
      { id: 'open', by: opener?.name ?? '', roles: opener?.roles ?? [], at: start },
      { ...moment(start), jobNumbers: [] },
    ),
  );
  fresh = [];
  news = 0;

  const base = (by: string, at: string) => {
    number += 1;
    return { id: `m${number}`, channel: 'desk', at, by, roles: person(by).roles };
  };
  return {
    name: 'desk',
    say: async (by, text, at) => {
      const said = base(by, at);
      messages.set(text, said.id);
      take(hear(state, { ...said, message: said.id, text }, moment(at)));
    },
    edit: async (by, message, text, at) => {
      const said = base(by, at);
      const edited = messages.get(message);
      if (!edited) throw new Error(`No message "${message}" was said.`);
      messages.set(text, edited);
      take(takeEdit(state, { ...said, message: edited, text }, moment(at)));
    },
    remove: async (by, message, at) => {
      const said = base(by, at);
      take(takeDelete(state, { ...said, message: messages.get(message) ?? '' }, moment(at)));
    },
    tap: async (by, label, fields, at) => {
      const action = [...shown.values()]
        .reverse()
        .flatMap(({ card }) => card.actions ?? [])
        .find((each) => each.label === label);
      if (!action)
        throw new Error(
          `Nothing says "${label}". There is: ${[...shown.values()].flatMap(({ card }) => (card.actions ?? []).map((each) => each.label)).join(', ')}`,
        );
      take(takeTap(state, { ...base(by, at), intent: action.intent, fields }, moment(at)));
    },
    until: async (at) => {
      while (again !== undefined && Date.parse(again) <= Date.parse(at)) {
        const now = again;
        again = undefined;
        take(tick(state, moment(now)));
      }
    },
    look: async () => {
      const seen = {
        sign,
        news,
        thread: fresh.filter(({ to }) => to === 'thread').map(({ text }) => text),
        channel: fresh.filter(({ to }) => to === 'channel').map(({ text }) => text),
        offers: [...shown.values()].flatMap(({ card }) =>
          (card.actions ?? []).map((action) => action.label),
        ),
        sheet: shown.get('sheet')?.card.text ?? '',
        status: state.view.status,
      };
      fresh = [];
      news = 0;
      sign = undefined;
      return seen;
    },
    end: async () => undefined,
  };
};
