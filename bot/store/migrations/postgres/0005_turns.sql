-- +goose Up

-- What was said, as a number that its words give (0: not known), and the reminder that it
-- asked for (0: none).
alter table turns add column said bigint not null default 0;
alter table turns add column reminder bigint not null default 0;
