// Ids of conversations. A channel's thread is the channel's id with the root message behind it; chats have no threads.

export type Spot = { readonly place: string; readonly thread?: string };

/** Only channels have threads; a chat that is given one would answer 404. */
export const hasThreads = (place: string): boolean => /@thread\.(?:tacv2|skype)$/u.test(place);

/** Takes "19:…@thread.tacv2;messageid=1700000000000" apart. */
export const spotOf = (conversation: string): Spot => {
  const [place = '', ...more] = conversation.split(';');
  const root = more.find((part) => part.startsWith('messageid='))?.slice('messageid='.length);
  return root ? { place, thread: root } : { place };
};

/** Where a post goes: into the thread where there is one, else to the place itself. */
export const conversationOf = ({ place, thread }: Spot): string =>
  thread && hasThreads(place) ? `${place};messageid=${thread}` : place;
