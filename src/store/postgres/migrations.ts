// The tables, as steps that are applied once each. Plain SQL that PostgreSQL-compatible distributed databases take too:
// no extension, no trigger, no LISTEN, no advisory lock; JSON is kept as text, since the hash chain needs it to the letter.

export type Migration = { readonly version: number; readonly statements: readonly string[] };

export const SCHEMA = 'chargehand';

export const MIGRATIONS: readonly Migration[] = [
  {
    version: 1,
    statements: [
      `create table chargehand.job (
        workshop text not null, job text not null,
        ord bigint not null,
        rev bigint not null,
        version integer not null,
        status text not null,
        summary text not null, threads text not null, posts text not null,
        changed_at timestamptz not null,
        primary key (workshop, job))`,
      'create index job_changed on chargehand.job (workshop, changed_at)',
      `create table chargehand.job_event (
        workshop text not null, job text not null, n integer not null,
        body text not null,
        primary key (workshop, job, n))`,
      `create table chargehand.job_thread (
        workshop text not null, channel text not null, team text not null, place text not null, thread text not null,
        job text not null,
        primary key (workshop, channel, team, place, thread))`,
      `create table chargehand.job_settled (
        workshop text not null, job text not null, mark text not null,
        primary key (workshop, job, mark))`,
      `create table chargehand.post (
        workshop text not null, job text not null, id text not null,
        ord bigint not null, urgent boolean not null,
        body text not null,
        primary key (workshop, job, id))`,
      `create table chargehand.delivery (
        workshop text not null, id text not null,
        ord bigint not null,
        body text not null,
        accepted_at text not null,
        primary key (workshop, id))`,
      `create table chargehand.delivery_key (
        workshop text not null, mark text not null,
        at timestamptz not null,
        primary key (workshop, mark))`,
      'create index delivery_key_at on chargehand.delivery_key (workshop, at)',
      `create table chargehand.note (
        workshop text not null, name text not null,
        value text not null,
        primary key (workshop, name))`,
      `create table chargehand.kept_file (
        workshop text not null, job text not null, name text not null,
        bytes bytea not null,
        primary key (workshop, job, name))`,
      `create table chargehand.lease (
        workshop text not null, name text not null,
        holder text not null, until timestamptz not null,
        primary key (workshop, name))`,
      'create sequence chargehand.job_order',
      'create sequence chargehand.post_order',
      'create sequence chargehand.delivery_order',
    ],
  },
  {
    // What processes keep in common beside the jobs: `shared-shelf.ts`.
    version: 2,
    statements: [
      // Empty for what waited when the column came: such a delivery is looked at whichever lane is asked for.
      'alter table chargehand.delivery add column lane text',
      'create index delivery_lane on chargehand.delivery (workshop, lane, ord)',
      `create table chargehand.paper (
        workshop text not null, name text not null,
        rev bigint not null, body text not null,
        primary key (workshop, name))`,
      `create table chargehand.log_head (
        workshop text not null,
        n bigint not null, epoch bigint not null,
        primary key (workshop))`,
      `create table chargehand.log_line (
        workshop text not null, n bigint not null,
        roll text not null, about text not null,
        once text,
        body text not null,
        primary key (workshop, n))`,
      'create unique index log_line_once on chargehand.log_line (workshop, once)',
      'create index log_line_roll on chargehand.log_line (workshop, roll, about, n)',
      `create table chargehand.held (
        workshop text not null, id text not null,
        body text not null, at timestamptz not null,
        primary key (workshop, id))`,
      `create table chargehand.bytes (
        workshop text not null, name text not null,
        size integer not null, at timestamptz not null,
        body bytea not null,
        primary key (workshop, name))`,
    ],
  },
];

/** The version the program works with. */
export const NEWEST = Math.max(...MIGRATIONS.map(({ version }) => version));
