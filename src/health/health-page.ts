// The health as a page: plain tables that load nothing and run nothing.
import type { ChannelHealth, Health } from './health.ts';

const escaped = (text: string): string =>
  text.replace(/[&<>"']/gu, (sign) => `&#${sign.charCodeAt(0)};`);

const row = (name: string, value: string): string =>
  `<tr><th scope="row">${escaped(name)}</th><td>${escaped(value)}</td></tr>`;

/** Seconds as "3 d 4 h", "4 h 12 min", "12 min" or "40 s". */
export const spanWords = (seconds: number): string => {
  const minutes = Math.floor(seconds / 60);
  if (minutes === 0) return `${seconds} s`;
  const [hours, days] = [Math.floor(minutes / 60), Math.floor(minutes / 1440)];
  if (hours === 0) return `${minutes} min`;
  return days === 0 ? `${hours} h ${minutes % 60} min` : `${days} d ${hours % 24} h`;
};

const sizeWords = (bytes: number): string =>
  bytes >= 1e9 ? `${(bytes / 1e9).toFixed(1)} GB` : `${Math.round(bytes / 1e6)} MB`;

const HELD: Readonly<Record<NonNullable<ChannelHealth['holdsUp']>, string>> = {
  wait: 'the platform asked to wait',
  unclear: 'the platform does not answer',
  refused: 'the platform refused',
};

const channelRow = (channel: ChannelHealth): string => {
  const waits =
    channel.waiting === 0
      ? 'none'
      : `${channel.waiting}, the oldest for ${spanWords(channel.oldestSeconds)}${channel.holdsUp ? `; ${HELD[channel.holdsUp]}` : ''}`;
  const cells = [waits, channel.lastDelivery ?? 'none yet', channel.lastPost ?? 'none yet'];
  return `<tr><th scope="row">${escaped(channel.channel)}</th>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`;
};

/** A whole page. */
export const healthPage = (health: Health): string => {
  const { disk } = health;
  const look =
    health.look.length === 0
      ? '<p>All is well.</p>'
      : `<ul>${health.look.map((line) => `<li>${escaped(line)}</li>`).join('')}</ul>`;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Health</title></head>
<body><h1>Health</h1>${look}
<h2>Channels</h2>
<table><thead><tr><th scope="col">channel</th><th scope="col">posts waiting</th><th scope="col">last delivery</th><th scope="col">last post</th></tr></thead>
<tbody>${health.channels.map(channelRow).join('')}</tbody></table>
<h2>The program</h2>
<table><tbody>
${row('version', `${health.version} on Node ${health.node}`)}
${row('running for', `${spanWords(health.uptimeSeconds)}, since ${health.since}`)}
${row('deliveries not worked off', String(health.inbox))}
${row('jobs', `${health.jobs.open} open, ${health.jobs.over} closed or cancelled`)}
${row('disk', disk ? `${sizeWords(disk.freeBytes)} free of ${sizeWords(disk.ofBytes)}` : 'not to be looked at')}
${row('memory', sizeWords(health.memoryBytes))}
</tbody></table>
<p>Counters in the Prometheus text format: /metrics</p></body></html>
`;
};
