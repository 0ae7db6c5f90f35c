// People: somebody the settings do not know, ticks, whose message goes under which job, accounts removed, the Home tab.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type InAWorkshop, inAWorkshop, JO, KIM, MO } from './in-a-workshop.ts';
import { ADA, ROBIN, until } from './set-up-channel.ts';

let all: InAWorkshop;
beforeEach(async () => {
  all = await inAWorkshop();
}, 60_000);
afterEach(async () => {
  expect(all.fake.refused).toEqual([]);
  await all.end();
});

const lastIn = (thread: string) => all.fake.thread(thread).at(-1);
const tap = async (user: string, ts: string, label: string): Promise<void> => {
  await all.fake.tap(user, all.fake.channel, ts, label);
  await all.calm();
};
const fill = async (user: string, fields: Record<string, string>): Promise<void> => {
  await all.fake.submitForm(user, fields);
  await all.calm();
};

describe('somebody who is not in the settings', () => {
  it('may look: questions are answered, nothing is recorded', async () => {
    const root = await all.open();
    await all.said(JO, 'where are we', root);
    expect(lastIn(root)?.text).toContain('Vehicle now');
    await all.said(JO, 'open jobs');
    const whispered = all.fake.thread(
      (all.fake.messages(all.fake.channel).at(-1) ?? { ts: '' }).ts,
    );
    expect(whispered.map((each) => each.text).join()).toContain('1050');
    expect(await all.messagesOf('1050')).toEqual([]);
  });

  it('is recorded after a controller takes them in: nothing they posted is lost', async () => {
    const root = await all.open();
    all.fake.named(JO, 'Jo Smith');
    const first = await all.said(JO, 'wheels chocked, parking brake on', root);
    const asked = lastIn(root);
    expect(asked?.text).toContain(
      'Kept, not recorded yet: "Jo Smith" is not in the workshop\'s settings.',
    );
    expect(asked?.text).toContain(`<@${ROBIN}>`);
    const second = await all.said(JO, 'batery isolated', root);
    await all.fake.edit(all.fake.channel, second, 'battery isolated');
    await all.calm();
    expect(all.fake.thread(root).filter((each) => each.user === all.fake.bot.user).length).toBe(1);
    expect(all.fake.reactions(second)).toEqual(['question']);
    expect(await all.messagesOf('1050')).toEqual([]);

    // Kept over a restart as well.
    await all.stop();
    await all.start();
    await tap(ROBIN, asked?.ts ?? '', 'Take in');
    await fill(ROBIN, { who: '(new)', name: 'Jo', role: 'technician' });
    expect(await all.messagesOf('1050')).toEqual([
      'Jo: wheels chocked, parking brake on',
      'Jo: batery isolated',
    ]);
    // The card that asked is closed in place.
    const closed = all.fake.thread(root).find((each) => each.ts === asked?.ts);
    expect(closed?.text).toContain('Jo is in the settings now, as technician.');
    expect(JSON.stringify(closed?.blocks)).not.toContain('button');
    expect(all.fake.reactions(first)).toEqual(['memo']);
    expect(all.fake.reactions(second)).toContain('memo');
    const edits = (await all.eventsOf('1050')).filter((event) => event.kind === 'message-edited');
    expect(edits.length).toBe(1);
    const third = await all.said(JO, 'engine is cold, 20 deg', root);
    expect(all.fake.reactions(third)).toEqual(['memo']);
    const settings = await all.settings();
    expect(settings).toContain('# Written by hand.');
    expect(settings).toContain('# on days');
    expect(settings).toMatch(
      new RegExp(`name: Jo\n +roles:\n +- technician\n +slack: ${JO}\n +# taken in by Robin`, 'u'),
    );
  });

  it('may be one of the settings whose id was not known', async () => {
    const root = await all.open();
    await all.said(JO, 'wheels chocked, parking brake on', root);
    await tap(ROBIN, lastIn(root)?.ts ?? '', 'Take in');
    await fill(ROBIN, { who: 'Lee', role: 'technician' });
    expect(await all.messagesOf('1050')).toEqual(['Lee: wheels chocked, parking brake on']);
    expect(await all.settings()).toMatch(
      new RegExp(`name: Lee, roles: \\[ technician \\], slack: ${JO}`, 'u'),
    );
  });

  it('is taken in by a controller only, and under no name that is taken', async () => {
    const root = await all.open();
    await all.said(JO, 'wheels chocked, parking brake on', root);
    const asked = lastIn(root)?.ts ?? '';
    for (const user of [ADA, KIM, JO]) {
      await tap(user, asked, 'Take in');
      if (all.fake.view(user)) await fill(user, { who: '(new)', name: 'Jo', role: 'controller' });
    }
    await tap(ROBIN, asked, 'Take in');
    await fill(ROBIN, { who: '(new)', name: 'ada', role: 'technician' });
    expect(lastIn(root)?.text).toContain('There is a "ada" in the settings already.');
    expect(await all.messagesOf('1050')).toEqual([]);
    expect(await all.settings()).not.toContain(JO);
  });

  it('stays kept where the settings cannot be written, and is taken in once they can', async () => {
    const root = await all.open();
    await all.said(JO, 'wheels chocked, parking brake on', root);
    const asked = lastIn(root)?.ts ?? '';
    const good = await all.settings();
    await all.writeSettings(`${good}\nnonsense: [`);
    await tap(ROBIN, asked, 'Take in');
    await fill(ROBIN, { who: '(new)', name: 'Jo', role: 'technician' });
    expect(lastIn(root)?.text).toContain('could not be written into');
    expect(lastIn(root)?.text).toContain('stays kept');
    await all.writeSettings(good);
    await tap(ROBIN, asked, 'Take in');
    await fill(ROBIN, { who: '(new)', name: 'Jo', role: 'technician' });
    expect(await all.messagesOf('1050')).toEqual(['Jo: wheels chocked, parking brake on']);
  });

  it('is turned away with a tap: what was kept is dropped, nobody is asked again', async () => {
    const root = await all.open();
    await all.said(JO, 'wheels chocked, parking brake on', root);
    await tap(ROBIN, lastIn(root)?.ts ?? '', 'Not one of us');
    const before = all.fake.thread(root).length;
    await all.said(JO, 'battery isolated', root);
    expect(all.fake.thread(root).length).toBe(before + 1);
    expect(await all.messagesOf('1050')).toEqual([]);
  });

  it('changes nothing with a button, and is told so', async () => {
    const root = await all.open();
    await all.said(ADA, 'fan cowl off', root);
    all.time.forward(30);
    await all.said(ADA, 'where are we', root);
    const card = [...all.fake.messages(all.fake.channel), ...all.fake.thread(root)].find((each) =>
      JSON.stringify(each.blocks).includes('I have seen it'),
    );
    if (card) await tap(JO, card.ts, 'I have seen it');
    else await all.fake.command(JO, all.fake.channel, 'open job 1099 bus 3 coolant pump');
    await all.calm();
    const kinds = (await all.eventsOf('1050')).map((event) => event.kind);
    expect(kinds).not.toContain('flag-acknowledged');
    expect(all.floor().floor.jobNumbers()).not.toContain('1099');
  });
});

describe('the shortcut "Record under a job"', () => {
  it('puts a message of the channel under the job that is chosen, as its writer posted it', async () => {
    await all.open('1050');
    await all.open('1051', 'Mo');
    const ts = await all.said(ADA, 'morning all, the kettle is on');
    await all.fake.shortcut(ROBIN, 'record-message', all.fake.channel, ts);
    const view = JSON.stringify(all.fake.view(ROBIN));
    for (const words of ['1050, bus 50', '1051, bus 51']) expect(view).toContain(words);
    await fill(ROBIN, { job: '1051' });
    expect((await all.messagesOf('1051'))[0]).toMatch(/^Ada: morning all/u);
    expect(await all.messagesOf('1050')).toEqual([]);
    // Once more under another job: it stands where it stands.
    await all.fake.shortcut(ROBIN, 'record-message', all.fake.channel, ts);
    await fill(ROBIN, { job: '1050' });
    expect(await all.messagesOf('1050')).toEqual([]);
  });

  it("is not for somebody else's message in a technician's hands, and not for the bot's own", async () => {
    const root = await all.open();
    const ts = await all.said(ADA, 'just saying hello');
    await all.fake.shortcut(MO, 'record-message', all.fake.channel, ts);
    await fill(MO, { job: '1050' });
    expect(await all.messagesOf('1050')).toEqual([]);
    const views = all.fake.calls.filter((each) => each.method === 'views.open').length;
    await all.fake.shortcut(ROBIN, 'record-message', all.fake.channel, root);
    expect(all.fake.calls.filter((each) => each.method === 'views.open').length).toBe(views);
  });
});

describe('an account', () => {
  it('that was removed brings its open jobs before the controller, directly', async () => {
    await all.open('1050', 'Ada');
    await all.fake.userChange(ADA, { deleted: true });
    await all.calm();
    const direct = all.fake.messages(`D${ROBIN.slice(1)}`).map((each) => each.text);
    expect(direct.join()).toContain('Still with Ada: job 1050, bus 50.');
  });

  it('with a new name stays the same person on the record', async () => {
    const root = await all.open();
    await all.fake.userChange(ADA, { name: 'Ada the Great' });
    await all.said(ADA, 'wheels chocked, parking brake on', root);
    expect(await all.messagesOf('1050')).toEqual(['Ada: wheels chocked, parking brake on']);
  });
});

describe('the bot', () => {
  it('says what it is for when it is invited, and tells the controllers when it is taken out', async () => {
    await all.fake.invite('C0YARD01');
    await all.calm();
    expect(
      all.fake
        .messages('C0YARD01')
        .map((each) => each.text)
        .join(),
    ).toContain('"open job"');
    await all.open();
    await all.fake.expel(all.fake.channel);
    await all.calm();
    expect(
      all.fake
        .messages(`D${ROBIN.slice(1)}`)
        .map((each) => each.text)
        .join(),
    ).toContain('job 1050 goes on unheard');
  });
});

describe('the Home tab', () => {
  const shows = (user: string): string => JSON.stringify(all.fake.home(user) ?? {});

  it('shows a technician their jobs, a manager the summary, a stranger what they can do', async () => {
    await all.open('1050', 'Ada');
    await all.open('1051', 'Mo');
    for (const user of [ADA, KIM, JO]) await all.fake.openHome(user);
    await until(() => [ADA, KIM, JO].every((user) => all.fake.home(user) !== undefined));
    expect(shows(ADA)).toContain('1050 bus 50');
    expect(shows(ADA)).not.toContain('1051');
    for (const job of ['1050', '1051']) expect(shows(KIM)).toContain(job);
    expect(shows(JO)).toContain('not in the settings');
    expect(shows(JO)).not.toContain('1050');
  });

  it('is drawn anew when something of theirs changes, and not for others', async () => {
    const root = await all.open('1050', 'Ada');
    await all.fake.openHome(ADA);
    await all.fake.openHome(MO);
    await until(() => all.fake.home(ADA) !== undefined && all.fake.home(MO) !== undefined);
    const published = (user: string): number =>
      all.fake.calls.filter((each) => each.method === 'views.publish' && each.args.user_id === user)
        .length;
    const before = published(MO);
    await all.said(ADA, 'wheels chocked, parking brake on', root);
    await until(() => shows(ADA).includes(', 1 of '), 'the page shows the step');
    expect(published(MO)).toBe(before);
  });

  it('shows a controller what waits for them, and releases with its button', async () => {
    const root = await all.open('1050', 'Ada');
    await all.said(ADA, 'pressure test held 1.0 bar', root);
    await all.fake.openHome(ROBIN);
    await until(() => shows(ROBIN).includes('To release on 1050, bus 50'), 'it waits');
    await all.fake.openHome(MO);
    await until(() => all.fake.home(MO) !== undefined);
    expect(shows(MO)).not.toContain('To release');
    await all.fake.tapHome(ROBIN, 'Release: ');
    await all.calm();
    const kinds = (await all.eventsOf('1050')).map((event) => event.kind);
    expect(kinds).toContain('hold-released');
    await until(() => !shows(ROBIN).includes('To release on 1050'), 'it waits no longer');
  });

  it('opens the form for a job', async () => {
    await all.fake.openHome(ADA);
    await until(() => all.fake.home(ADA) !== undefined);
    await all.fake.tapHome(ADA, 'Open a job');
    expect(all.fake.view(ADA)).toMatchObject({ title: { text: 'Open a job' } });
  });
});
