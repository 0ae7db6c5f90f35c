// The workshop whose people change while it runs: somebody is taken in, and from then on everybody sees them.
import type { Settings } from '../../shared/settings.ts';
import type { Workshop } from '../desk/workshop.ts';

export type LiveWorkshop = {
  readonly workshop: Workshop;
  readonly change: (settings: Settings) => void;
};

export const liveWorkshop = (made: Workshop): LiveWorkshop => {
  let { settings } = made;
  return {
    workshop: {
      ...made,
      get settings() {
        return settings;
      },
    },
    change: (changed) => {
      settings = changed;
    },
  };
};
