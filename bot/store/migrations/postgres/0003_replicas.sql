-- +goose Up

-- The term of the sender that has taken a message in hand.
alter table outbox add column taken bigint not null default 0;

-- A log that is being moved here, and where it comes from: it is not whole yet.
create table moving (
  source text collate "C" not null primary key
);
