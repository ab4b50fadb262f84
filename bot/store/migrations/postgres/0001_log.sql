-- The memory and the log of every chat. Each key starts with the chat. Times are
-- microseconds since 1970 in UTC, beside the zone's offset in seconds. A day is
-- the number of the local date since 1970.

-- +goose Up
create table chats (
  chat   bigint not null primary key,
  memory text not null
);

-- One row for each message dealt with: a message that comes again gets this reply.
create table messages (
  chat      bigint not null,
  id        bigint not null,
  stored_at bigint not null,
  reply     text not null,
  primary key (chat, id)
);

-- The log. Rows are added, never updated or deleted. n counts the chat's rows in
-- the order in which they were logged.
create table loads (
  chat        bigint not null,
  n           bigint not null,
  id          bigint not null,
  part        bigint not null,
  replaces    bigint not null,
  field       bigint not null,
  field_name  text not null,
  seq         bigint not null,
  fraction    double precision not null,
  volume      double precision not null,
  area        double precision not null,
  rate        double precision not null,
  spread_at   bigint not null,
  spread_zone bigint not null,
  day         bigint not null,
  said_at     bigint not null,
  said_zone   bigint not null,
  who         bigint not null,
  who_name    text not null,
  note        text not null,
  primary key (chat, n)
);

create unique index loads_message on loads (chat, id, part);
create index loads_field on loads (chat, field, spread_at);
create index loads_day on loads (chat, day, spread_at);

create table load_seeds (
  chat   bigint not null,
  n      bigint not null,
  pos    bigint not null,
  crop   text not null,
  rate   double precision not null,
  weight double precision not null,
  primary key (chat, n, pos)
);

-- A load taken back. Added, never updated or deleted.
create table cancels (
  chat           bigint not null,
  n              bigint not null,
  cancelled_at   bigint not null,
  cancelled_zone bigint not null,
  why            text not null,
  primary key (chat, n)
);

-- Sums of the loads that stand, by field (scope 'field', key its number) and by
-- day (scope 'day', key the day). They follow from the log and are kept with it.
create table sums (
  chat       bigint not null,
  scope      text collate "C" not null,
  key        bigint not null,
  loads      double precision not null,
  rows_n     bigint not null,
  volume     double precision not null,
  area       double precision not null,
  first_at   bigint not null,
  first_zone bigint not null,
  last_at    bigint not null,
  last_zone  bigint not null,
  primary key (chat, scope, key)
);

create table seed_sums (
  chat   bigint not null,
  scope  text collate "C" not null,
  key    bigint not null,
  crop   text collate "C" not null,
  rows_n bigint not null,
  weight double precision not null,
  primary key (chat, scope, key, crop)
);
