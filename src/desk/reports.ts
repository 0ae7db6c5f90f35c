// What the desk shows and does not make itself: pictures and papers, handed to it by whoever joins the parts.
import type { JobEvent } from '../../shared/event.ts';
import type { JobView } from '../job/view.ts';
import type { CardPicture } from './card.ts';
import type { ForecastGround } from './forecast/forecast.ts';

/** A picture with the same content in words, a line for each thing it shows. */
export type Shown = { readonly picture: CardPicture; readonly text: string };

export type ClaimNow = {
  readonly complaint: string;
  readonly cause: string;
  readonly correction: string;
  /** What the folder still lacks, each with whom to ask; empty when it is whole. */
  readonly lacks: readonly string[];
  /** Of these, what closing the job does not ask for by itself. */
  readonly onlyForClaim: readonly string[];
};

type At = {
  /** ISO 8601 with offset. */
  readonly now: string;
  /** IANA time zone of the workshop. */
  readonly zone: string;
};

export type Reports = {
  readonly timeline: (view: JobView, events: readonly JobEvent[], ground: ForecastGround) => Shown;
  readonly hoursAhead: (views: readonly JobView[], ground: ForecastGround) => Shown;
  readonly claim: (view: JobView, events: readonly JobEvent[], at: At) => ClaimNow;
};
