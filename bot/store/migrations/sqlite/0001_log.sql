-- The memory and the log of every chat. Each key starts with the chat. Times are
-- microseconds since 1970 in UTC, beside the zone's offset in seconds. A day is
-- the number of the local date since 1970.

-- +goose Up
create table chats (
  chat   integer not null primary key,
  memory text    not null
) strict;

-- One row for each message dealt with: a message that comes again gets this reply.
create table messages (
  chat      integer not null,
  id        integer not null,
  stored_at integer not null,
  reply     text    not null,
  primary key (chat, id)
) strict;

-- The log. Rows are added, never updated or deleted. n counts the chat's rows in
-- the order in which they were logged.
create table loads (
  chat        integer not null,
  n           integer not null,
  id          integer not null,
  part        integer not null,
  replaces    integer not null,
  field       integer not null,
  field_name  text    not null,
  seq         integer not null,
  fraction    real    not null,
  volume      real    not null,
  area        real    not null,
  rate        real    not null,
  spread_at   integer not null,
  spread_zone integer not null,
  day         integer not null,
  said_at     integer not null,
  said_zone   integer not null,
  who         integer not null,
  who_name    text    not null,
  note        text    not null,
  primary key (chat, n)
) strict, without rowid;

create unique index loads_message on loads (chat, id, part);
create index loads_field on loads (chat, field, spread_at);
create index loads_day on loads (chat, day, spread_at);

create table load_seeds (
  chat   integer not null,
  n      integer not null,
  pos    integer not null,
  crop   text    not null,
  rate   real    not null,
  weight real    not null,
  primary key (chat, n, pos)
) strict, without rowid;

-- A load taken back. Added, never updated or deleted.
create table cancels (
  chat           integer not null,
  n              integer not null,
  cancelled_at   integer not null,
  cancelled_zone integer not null,
  why            text    not null,
  primary key (chat, n)
) strict, without rowid;

-- Sums of the loads that stand, by field (scope 'field', key its number) and by
-- day (scope 'day', key the day). They follow from the log and are kept with it.
create table sums (
  chat       integer not null,
  scope      text    not null,
  key        integer not null,
  loads      real    not null,
  rows_n     integer not null,
  volume     real    not null,
  area       real    not null,
  first_at   integer not null,
  first_zone integer not null,
  last_at    integer not null,
  last_zone  integer not null,
  primary key (chat, scope, key)
) strict, without rowid;

create table seed_sums (
  chat   integer not null,
  scope  text    not null,
  key    integer not null,
  crop   text    not null,
  rows_n integer not null,
  weight real    not null,
  primary key (chat, scope, key, crop)
) strict, without rowid;
