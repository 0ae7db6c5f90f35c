// Every test runs in an awkward time zone and with the network closed but for loopback.
import nock from 'nock';
import { afterAll, beforeAll } from 'vitest';

process.env.TZ = 'Pacific/Chatham';

beforeAll(() => {
  nock.disableNetConnect();
  nock.enableNetConnect((host) => /^(127\.\d+\.\d+\.\d+|localhost|\[::1\])(:\d+)?$/.test(host));
});

afterAll(() => {
  nock.restore();
});
