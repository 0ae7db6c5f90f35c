// Files that go with a card, each a post of its own behind it: kept, tried again and posted once like every other post.
import type { Channel } from '../chat/channel.ts';
import type { Post } from '../desk/card.ts';

/** The files and the picture of a post, for a channel that uploads; where it does not, the card shows or names them. */
export const filePosts = (post: Post, channel: Pick<Channel, 'upload'> | undefined): Post[] => {
  const { card } = post;
  if (!card || !channel?.upload) return [];
  // The same file under a card that is edited is posted once, hence the key and `edit`: a known key is left as it is.
  const behind = (name: string, file: NonNullable<Post['file']>): Post => ({
    key: `${post.key}:file:${name}`,
    to: post.to,
    file,
    edit: true,
    urgent: false,
  });
  return [
    ...(card.picture ? [behind('picture', card.picture)] : []),
    ...(card.files ?? []).map((file) => behind(file.kept, file)),
  ];
};
