-- +goose Up

-- What was said, as a number that its words give (0: not known), and the reminder that it
-- asked for (0: none).
alter table turns add column said integer not null default 0;
alter table turns add column reminder integer not null default 0;
