// What the app asks of a workspace, and what for. The manifests list the same; a test holds them together.

/** Scopes of the bot token: no more than what is used. */
export const SCOPES: Readonly<Record<string, string>> = {
  'app_mentions:read': 'hear when somebody writes @Chargehand',
  'channels:read': 'notice that it was taken into a public channel or out of one',
  'channels:history': 'hear messages in public channels it is in, and read what it missed',
  'chat:write': 'post answers, flags and job sheets, and change its own posts',
  commands: 'the command /chargehand and the shortcuts',
  'files:read': 'fetch photos and files that are shared as evidence',
  'files:write': 'upload pictures, records and claim papers into a job thread',
  'groups:read': 'notice that it was taken into a private channel or out of one',
  'groups:history': 'hear messages in private channels it is in, and read what it missed',
  'im:history': 'hear messages written to it directly, and read what it missed',
  'im:write': 'open a direct conversation, to tell one person something',
  'pins:write': 'pin the job sheet',
  'reactions:read': 'hear the reactions people put on messages',
  'reactions:write': 'show with a reaction that a message is recorded',
  'users:read':
    'show the name of somebody new to the controller, and notice that an account was removed',
};

/** Events the app is sent. */
export const EVENTS = [
  'app_home_opened',
  'app_mention',
  'app_uninstalled',
  'channel_left',
  'group_left',
  'member_joined_channel',
  'message.channels',
  'message.groups',
  'message.im',
  'reaction_added',
  'reaction_removed',
  'tokens_revoked',
  'user_change',
] as const;
