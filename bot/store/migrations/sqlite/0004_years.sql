-- +goose Up

-- Sums by year (scope 'year', key the year of the day), so that a season is one row and
-- not one for each of its days.
insert into sums (chat, scope, key, loads, rows_n, volume, area, first_at, first_zone, last_at, last_zone)
select y.chat, 'year', y.year, y.loads, y.rows_n, y.volume, y.area,
  y.first_at, (select d.first_zone from sums d where d.chat = y.chat and d.scope = 'day'
    and cast(strftime('%Y', d.key * 86400, 'unixepoch') as integer) = y.year order by d.first_at, d.key limit 1),
  y.last_at, (select d.last_zone from sums d where d.chat = y.chat and d.scope = 'day'
    and cast(strftime('%Y', d.key * 86400, 'unixepoch') as integer) = y.year order by d.last_at desc, d.key desc limit 1)
from (
  select chat, cast(strftime('%Y', key * 86400, 'unixepoch') as integer) as year, sum(loads) as loads, sum(rows_n) as rows_n,
    sum(volume) as volume, sum(area) as area, min(first_at) as first_at, max(last_at) as last_at
  from sums where scope = 'day' group by chat, 2
) y;

insert into seed_sums (chat, scope, key, crop, rows_n, weight)
select chat, 'year', cast(strftime('%Y', key * 86400, 'unixepoch') as integer), crop, sum(rows_n), sum(weight)
from seed_sums where scope = 'day' group by chat, 3, crop;
