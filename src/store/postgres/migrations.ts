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
];

/** The version the program works with. */
export const NEWEST = Math.max(...MIGRATIONS.map(({ version }) => version));
