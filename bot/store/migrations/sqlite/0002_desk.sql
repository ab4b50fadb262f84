-- What a messenger must not lose. Times are microseconds since 1970 in UTC.

-- +goose Up

-- What came in. raw is emptied when it has been dealt with.
create table inbox (
  number      integer not null primary key,
  chat        integer not null,
  raw         text    not null,
  received_at integer not null,
  done_at     integer not null default 0,
  trouble     text    not null default ''
) strict;
create index inbox_waiting on inbox (number) where done_at = 0;

-- The number to ask for next. A row of its own: numbers may start again lower.
create table offsets (
  name text    not null primary key,
  next integer not null
) strict;

-- What is to go out. body is emptied when it has gone. state: 0 waits, 1 sent, 2 given up.
create table outbox (
  id        integer not null primary key autoincrement,
  chat      integer not null,
  rank      integer not null,
  body      text    not null,
  edits     integer not null,
  due_at    integer not null,
  until_at  integer not null,
  tries     integer not null default 0,
  state     integer not null default 0,
  ended_at  integer not null default 0,
  message   integer not null default 0,
  why       text    not null default ''
) strict;
create index outbox_waiting on outbox (id) where state = 0;
create index outbox_ended on outbox (ended_at) where state > 0;

-- Which answer a message got, for its corrections.
create table turns (
  chat      integer not null,
  message   integer not null,
  key       integer not null,
  edits     integer not null,
  edited_at integer not null,
  out       integer not null,
  memory    text    not null,
  primary key (chat, message)
) strict, without rowid;
create index turns_memory on turns (chat) where memory <> '';

-- The buttons of an answer: what each of them says, as a list. state: 1 live, 2 used,
-- 3 old.
create table buttons (
  id    integer not null primary key autoincrement,
  chat  integer not null,
  says  text    not null,
  state integer not null
) strict;
create index buttons_live on buttons (chat) where state = 1;

create table guests (
  id      integer not null primary key,
  role    text    not null,
  name    text    not null,
  told_at integer not null,
  tries   integer not null,
  silent  integer not null,
  asked   integer not null,
  soak    integer not null,
  nudge   integer not null,
  day     text    not null
) strict;

create table codes (
  code    text    not null primary key,
  gives   text    not null,
  made_by integer not null,
  until_at integer not null,
  used_by integer not null default 0,
  used_at integer not null default 0
) strict;

create table reminders (
  id     integer not null primary key autoincrement,
  chat   integer not null,
  thread integer not null,
  person integer not null,
  kind   text    not null,
  words  text    not null,
  due_at integer not null,
  zone   text    not null,
  ended_at integer not null default 0
) strict;
create index reminders_due on reminders (due_at) where ended_at = 0;
create index reminders_chat on reminders (chat) where ended_at = 0;

-- Chats that go on under another number.
create table moved (
  chat    integer not null primary key,
  goes_on integer not null
) strict;
